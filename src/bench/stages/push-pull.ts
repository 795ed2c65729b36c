import { BASE, COLLECTOR, EMITTER, type PlacedTransistor } from "./linear-circuit.ts";
import { degrees, over, size } from "./phasor.ts";
import type { Drive } from "./signal.ts";
import type { Wiring } from "./wiring.ts";

/** Two transistors that take turns, and whether their bases move the same way or opposite ways. */
export interface Pair {
  readonly first: number;
  readonly second: number;
  readonly sense: 1 | -1;
}

/** Halves are driven alike within this factor and so many degrees. */
const ALIKE = 3;
const IN_STEP = 60;

/**
 * The pairs among the transistors: alike, both collectors on one transformer, bases in opposite phase; or
 * of both polarities, collectors on the supply, emitters together, bases in phase.
 */
export function pushPullPairs(
  wiring: Wiring,
  transistors: readonly PlacedTransistor[],
  drives: readonly Drive[],
  able: (k: number) => boolean,
): readonly Pair[] {
  const taken = new Set<number>();
  const pairs: Pair[] = [];
  for (let first = 0; first < transistors.length; first++) {
    for (let second = first + 1; second < transistors.length; second++) {
      if (taken.has(first) || taken.has(second) || !able(first) || !able(second)) continue;
      const sense = joined(wiring, transistors[first]!, transistors[second]!);
      if (sense === undefined || !inStep(drives[first]!, drives[second]!, sense)) continue;
      taken.add(first).add(second);
      pairs.push({ first, second, sense });
    }
  }
  return pairs;
}

function inStep(a: Drive, b: Drive, sense: 1 | -1): boolean {
  if (a.source === undefined && b.source === undefined) return true;
  if (a.source === undefined || b.source === undefined) return false;
  const { re, im } = over(a.current, b.current);
  const ratio = size({ re, im });
  const off = Math.abs(degrees({ re: sense * re, im: sense * im }));
  return ratio < ALIKE && ratio > 1 / ALIKE && off < IN_STEP;
}

/** How two transistors work on one load, if they do. */
function joined(wiring: Wiring, a: PlacedTransistor, b: PlacedTransistor): 1 | -1 | undefined {
  const net = ({ part }: PlacedTransistor, pin: number) => wiring.at(part, pin);
  if (net(a, BASE) === net(b, BASE) && polarity(wiring, a) === polarity(wiring, b)) return undefined;
  if (polarity(wiring, a) === polarity(wiring, b)) {
    const [mine, theirs] = [a, b].map((one) => wiring.partsAt(net(one, COLLECTOR), "transformer"));
    const shared = mine!.some((part) => theirs!.includes(part));
    return shared && net(a, COLLECTOR) !== net(b, COLLECTOR) ? -1 : undefined;
  }
  if (![a, b].every((one) => wiring.isSupply(net(one, COLLECTOR)))) return undefined;
  const emitters = [a, b].map((one) => wiring.reached(net(one, EMITTER)));
  const meet = [...emitters[0]!].some((at) => !wiring.isSupply(at) && emitters[1]!.has(at));
  return meet ? 1 : undefined;
}

const polarity = ({ circuit }: Wiring, { part }: PlacedTransistor) =>
  circuit.types[circuit.parts[part]!.type ?? ""]?.device;
