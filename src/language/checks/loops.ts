import type { Circuit } from "../../circuit/circuit.ts";
import { kindOf } from "../../parts/index.ts";
import { listed } from "../names.ts";
import { Joined } from "../nets.ts";
import type { Examined } from "./checked.ts";

interface Link {
  readonly part: string;
  readonly from: number;
  readonly to: number;
}

/** Loops of batteries, coils and contacts without any resistance: the current in them would be undetermined. */
export function checkLoops(examined: Examined): void {
  const reported = new Set<string>();
  for (const present of examined.inModes) {
    const joined = Joined.of(present.nets.length);
    const links: Link[] = [];
    for (const link of stiffLinks(present, examined)) {
      if (joined.join(link.from, link.to)) links.push(link);
      else report(examined, [link, ...between(links, link.from, link.to)], reported);
    }
  }
}

function stiffLinks(present: Circuit, examined: Examined): Link[] {
  return present.parts
    .filter((part) => examined.sound(part))
    .flatMap((part) =>
      (kindOf(part).stiff?.(part) ?? []).map(([a, b]) => ({
        part: part.name,
        from: part.pins[a]?.net ?? 0,
        to: part.pins[b]?.net ?? 0,
      })),
    );
}

/** The links that lead from one net to another; they form no loops, so there is one way only. */
function between(links: readonly Link[], from: number, to: number): Link[] {
  if (from === to) return [];
  for (const link of links) {
    if (link.from !== from && link.to !== from) continue;
    const next = link.from === from ? link.to : link.from;
    const others = links.filter((other) => other !== link);
    if (next === to) return [link];
    const rest = between(others, next, to);
    if (rest.length > 0) return [link, ...rest];
  }
  return [];
}

function report(examined: Examined, loop: readonly Link[], reported: Set<string>): void {
  const { complaints } = examined.draft;
  const names = [...new Set(loop.map((link) => link.part))].sort();
  const key = names.join(" ");
  const part = examined.circuit.parts.find(({ name }) => name === loop[0]?.part);
  if (reported.has(key) || part === undefined) return;
  reported.add(key);
  const kinds = new Set(
    names.map((name) => examined.circuit.parts.find((other) => other.name === name)?.kind ?? ""),
  );
  complaints.error(
    examined.partSpan(part),
    names.length === 1
      ? `${names[0]} is short-circuited and has no resistance: its current would have no limit`
      : `${listed(names)} form a loop without any resistance: the current in it would have no limit`,
    remedy(kinds),
  );
}

function remedy(kinds: ReadonlySet<string>): string {
  if (kinds.has("battery")) return "give the battery its internal resistance, such as internal 0.5 ohm";
  if (kinds.has("generator")) return "give the generator its source resistance, such as source 600 ohm";
  if (kinds.has("switch")) return "give the switch a contact resistance, such as contact 20 mohm";
  return "give the winding its resistance, such as dcr 10 ohm";
}
