import type { Circuit, Part } from "../../circuit/circuit.ts";
import { kindOf } from "../../parts/index.ts";
import { listed } from "../names.ts";
import { Joined } from "../nets.ts";
import type { Examined } from "./checked.ts";
import { chassisMeant } from "./ground-names.ts";

/**
 * Nets that no direct current can reach from chassis in any mode. One error for each group of nets that
 * hang together. Returns all nets found so.
 */
export function checkGrounding(examined: Examined): ReadonlySet<number> {
  const { circuit, table } = examined;
  const ever = Joined.of(circuit.nets.length);
  const held = new Set<number>([0]);
  for (const present of examined.inModes) {
    const now = Joined.of(circuit.nets.length);
    for (const [a, b] of conduction(present, examined)) {
      now.join(a, b);
      ever.join(a, b);
    }
    circuit.nets.forEach((_, net) => {
      if (now.root(net) === now.root(0)) held.add(net);
    });
  }
  const groups = new Map<number, number[]>();
  circuit.nets.forEach((_, net) => {
    const root = ever.root(net);
    const group = groups.get(root);
    if (group === undefined) groups.set(root, [net]);
    else group.push(net);
  });
  const found = new Set<number>();
  for (const group of groups.values()) {
    const loose = group.filter((net) => !held.has(net) && circuit.nets[net]!.points.length > 0);
    for (const net of loose) found.add(net);
    if (loose.length > 0 && !group.some((net) => table.uncertain.has(net))) complain(examined, loose);
  }
  return found;
}

/** Pairs of nets that a part lets direct current pass between; a part in error is taken to conduct. */
function conduction(present: Circuit, examined: Examined): (readonly [number, number])[] {
  return present.parts.flatMap((part) =>
    pinPairs(part, examined).map(([a, b]) => [part.pins[a]?.net ?? 0, part.pins[b]?.net ?? 0] as const),
  );
}

function pinPairs(part: Part, examined: Examined): readonly (readonly [number, number])[] {
  if (examined.sound(part)) return kindOf(part).conducts?.(part) ?? [];
  return part.pins.slice(1).map((_, k) => [k, k + 1] as const);
}

function complain(examined: Examined, loose: readonly number[]): void {
  const { circuit, draft } = examined;
  const names = loose.map((net) => circuit.nets[net]!.name);
  const points = loose.flatMap((net) => circuit.nets[net]!.points);
  const parts = [...new Set(points.map((point) => point.slice(0, point.indexOf("."))))];
  const first = loose.reduce((a, b) => (isBefore(examined, a, b) ? a : b));
  draft.complaints.error(
    examined.netSpan(first),
    names.length === 1
      ? `No direct current can flow between the net ${names[0]} and chassis; on it ${parts.length === 1 ? "is" : "are"} ${some(parts)}`
      : `No direct current can flow between the nets ${some(names)} and chassis; on them are ${some(parts)}`,
    chassisMeant(names) ??
      "its voltage is undetermined: join it to chassis, or by a resistor or coil to a net that is",
  );
}

const some = (names: readonly string[]) =>
  names.length <= 8 ? listed(names) : `${names.slice(0, 8).join(", ")} and ${names.length - 8} more`;

function isBefore(examined: Examined, a: number, b: number): boolean {
  const [one, other] = [examined.netSpan(a), examined.netSpan(b)];
  return one.line < other.line || (one.line === other.line && one.column <= other.column);
}
