/** The loops of a circuit: which stage acts back on which, by what parts, how much, how far from singing. */
import { closingParts } from "./closing-parts.ts";
import type { LinearCircuit } from "./linear-circuit.ts";
import { type LoopPoint, phaseMargin } from "./margin.ts";
import { invert } from "./matrix.ts";
import { OpenedParts } from "./opened.ts";
import { minus, ONE, over, type Phasor, plus, signed, size, ZERO } from "./phasor.ts";
import type { FeedbackLoop } from "./results.ts";
import { DIRECT } from "./sweep.ts";
import { type Transmission, transmission } from "./transmission.ts";
import type { Wiring } from "./wiring.ts";

/** A stage in the order of the signal: one transistor or the two of a push-pull stage, by number. */
export interface Unit {
  readonly members: readonly number[];
  readonly rank: number;
  /** Whether a source's signal comes by. */
  readonly driven: boolean;
}

/** A loop gain below this changes a gain by less than a fifth, and is left out; above audio, one below 1. */
const leastLoopGain = (hertz: number): number => (hertz > 20_000 ? 1 : 0.2);
const AUDIO = 1000;
/** Where loops that are to act on signals are looked for, Hz. */
const SIGNALS = [AUDIO, 20_000, 100_000];

/** Return ratio of all links from the transistors of one unit to those of another. */
export function unitReturn({ links, determinant }: Transmission, from: Unit, to: Unit): Phasor {
  const cut = links.map((row, j) =>
    row.map((link, k) => {
      const kept = from.members.includes(k) && to.members.includes(j) ? ZERO : link;
      return j === k ? plus(ONE, kept) : kept;
    }),
  );
  return minus(over(determinant, invert(cut).determinant), ONE);
}

/** The same with one transistor's generator at rest. */
function returnWithout(at: Transmission, from: Unit, to: Unit, silent: number): Phasor {
  const links = at.links.map((row, j) => (j === silent ? row.map(() => ZERO) : row));
  const whole = links.map((row, j) => row.map((link, k) => (j === k ? plus(ONE, link) : link)));
  return unitReturn({ ...at, links, determinant: invert(whole).determinant }, from, to);
}

/**
 * Whether signals that go this way go back: to the stage itself, or to one no later in the order of the
 * signal; among stages that no source reaches, in the order of the parts.
 */
function goesBack(from: Unit, to: Unit): boolean {
  if (from === to) return true;
  if (from.driven !== to.driven) return false;
  return from.driven ? to.rank <= from.rank : to.members[0]! < from.members[0]!;
}

/** What the search for loops needs to know. */
export interface Search {
  readonly circuit: LinearCircuit;
  readonly wiring: Wiring;
  readonly units: readonly Unit[];
  readonly sweep: readonly Transmission[];
  /** Frequencies of oscillation, at which loops are looked for too, Hz. */
  readonly oscillations: readonly number[];
}

/** All loops whose gain is not negligible at direct current or for signals. */
export function feedbackLoops(search: Search): readonly FeedbackLoop[] {
  const { circuit, units, oscillations } = search;
  const direct = transmission(circuit, DIRECT);
  const signals = [...SIGNALS, ...oscillations].flatMap((hertz) => transmission(circuit, hertz) ?? []);
  const pairs = units.flatMap((to) =>
    units.filter((from) => goesBack(from, to)).map((from) => ({ from, to })),
  );
  const dcParts = partsAt(search, pairs, direct === undefined ? [] : [direct]);
  const acParts = partsAt(search, pairs, signals);
  return pairs.flatMap(({ from, to }, i) => {
    const [dc, ac] = [dcParts[i], acParts[i]];
    const closed = { dcParts: dc ?? [], acParts: ac ?? [], direct, signals };
    // a stage's own loop that no part closes is inside the transistor
    const inside = from === to && closed.dcParts.length + closed.acParts.length === 0;
    return inside || (dc ?? ac) === undefined ? [] : [loopOf(search, from, to, closed)];
  });
}

interface Ends {
  readonly from: Unit;
  readonly to: Unit;
}

/**
 * For each pair of ends, the parts that close its loop at any of the frequencies where it counts; nothing
 * where it counts at none.
 */
function partsAt(
  search: Search,
  pairs: readonly Ends[],
  at: readonly Transmission[],
): readonly (readonly string[] | undefined)[] {
  const { circuit, wiring } = search;
  const found = pairs.map((): Set<string> | undefined => undefined);
  for (const each of at) {
    const counting = pairs.map(
      ({ from, to }) => size(unitReturn(each, from, to)) >= leastLoopGain(each.hertz),
    );
    if (!counting.includes(true)) continue;
    const opened = new OpenedParts(
      circuit,
      each.hertz,
      circuit.transistors.flatMap(({ nodes }) => nodes),
    );
    pairs.forEach((ends, i) => {
      if (!counting[i]) return;
      found[i] ??= new Set();
      for (const [acting, acted] of membersOf(ends)) {
        const ways = [circuit.transistors[acting]!, circuit.transistors[acted]!] as const;
        for (const name of closingParts(circuit, wiring, opened, ...ways)) found[i]!.add(name);
      }
    });
  }
  return found.map((names) => names && [...names]);
}

/** Every transistor that acts with every one it acts on; in a push-pull stage each on itself. */
const membersOf = ({ from, to }: Ends): (readonly [acting: number, acted: number])[] =>
  from === to
    ? from.members.map((k) => [k, k] as const)
    : from.members.flatMap((acting) => to.members.map((acted) => [acting, acted] as const));

interface Closed {
  readonly dcParts: readonly string[];
  readonly acParts: readonly string[];
  readonly direct: Transmission | undefined;
  readonly signals: readonly Transmission[];
}

function loopOf({ circuit, sweep }: Search, from: Unit, to: Unit, closed: Closed): FeedbackLoop {
  const points: LoopPoint[] = sweep.map((at) => ({ hertz: at.hertz, value: unitReturn(at, from, to) }));
  const greatest = points.reduce((a, b) => (size(b.value) > size(a.value) ? b : a), points[0]!);
  const margin = phaseMargin(points, (hertz) => {
    const at = transmission(circuit, hertz);
    return at && unitReturn(at, from, to);
  });
  const strongest = [closed.direct, ...closed.signals].flatMap((each) => each ?? []);
  const at = strongest.reduce((a, b) =>
    size(unitReturn(b, from, to)) > size(unitReturn(a, from, to)) ? b : a,
  );
  const names = (members: readonly number[]) => members.map((k) => circuit.transistors[k]!.name);
  const gainAt = (each: Transmission | undefined) => (each ? signed(unitReturn(each, from, to)) : 0);
  return {
    from: names(from.members),
    to: names(to.members),
    through: names(needed(circuit, at, from, to)),
    dc_parts: closed.dcParts,
    ac_parts: closed.acParts,
    dc_loop_gain: gainAt(closed.direct),
    ac_loop_gain: gainAt(closed.signals[0]),
    greatest_loop_gain: size(greatest.value),
    greatest_hertz: greatest.hertz,
    ...margin,
  };
}

/** The transistors without which less than half of the loop gain is left. */
function needed(circuit: LinearCircuit, at: Transmission, from: Unit, to: Unit): readonly number[] {
  const whole = size(unitReturn(at, from, to));
  return circuit.transistors.flatMap((_, k) => {
    const own = from.members.includes(k) || to.members.includes(k);
    return own || size(returnWithout(at, from, to, k)) < whole / 2 ? [k] : [];
  });
}
