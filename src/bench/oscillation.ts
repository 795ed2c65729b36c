import type { Circuit } from "../circuit/circuit.ts";
import type { Mode } from "../engine/natural/refine.ts";
import { naturalFrequencies, pencilOf } from "../engine/natural-frequencies.ts";
import { SmallSignal } from "../engine/small-signal.ts";
import type { Conditions } from "./conditions.ts";
import { supplyMargins } from "./oscillation/margins.ts";
import { Participation } from "./oscillation/participation.ts";
import type {
  Growing,
  GrowthKind,
  NaturalFrequency,
  OscillationChart,
  Participant,
} from "./oscillation/results.ts";
import { startMargin } from "./oscillation/start.ts";
import { steadySwing } from "./oscillation/steady.ts";
import { traps } from "./oscillation/trap.ts";
import { type Answer, inEachMode, type SolvedMode } from "./run.ts";

export interface OscillationConditions extends Conditions {
  /** Shown names of nets whose level is wanted; those that swing noticeably if none. */
  readonly nets?: readonly string[];
  /** The natural frequencies alone: neither margins nor steady swings of what grows. */
  readonly natural?: boolean;
  /** Looks for the limits of batteries and decoupling capacitors, too. */
  readonly margins?: boolean;
}

/** A growth slower than this share of |s| is rounding. */
const ROUNDING = 1e-9;

const grows = ({ s }: Mode): boolean => s.re > ROUNDING * Math.hypot(s.re, s.im);

/**
 * Natural frequencies of every mode, linearised at its operating point: which grow, which parts take part,
 * what they still start with, and what they settle at.
 */
export function oscillation(
  circuit: Circuit,
  conditions: OscillationConditions = {},
): Answer<OscillationChart> {
  return inEachMode(circuit, conditions, (solved) => ({
    results: [chartOf(solved, conditions)],
    failures: [],
  }));
}

/** Frequency of the oscillation that grows fastest in a mode, steady if it settles, Hz; nothing if none grows. */
export function oscillationFrequency(
  circuit: Circuit,
  mode: string,
  conditions: Conditions = {},
): number | undefined {
  const { results } = inEachMode(circuit, { ...conditions, modes: [mode] }, (solved) => {
    const fastest = modesOf(solved).find((found) => grows(found) && found.s.im > 0);
    if (fastest === undefined) return { results: [], failures: [] };
    const { cycle } = steadySwing(solved, fastest, []);
    return { results: [(cycle?.omega ?? fastest.s.im) / (2 * Math.PI)], failures: [] };
  });
  return results[0];
}

const modesOf = ({ point }: SolvedMode): Mode[] => naturalFrequencies(pencilOf(new SmallSignal(point)));

function chartOf(
  running: SolvedMode,
  { nets = [], natural: alone = false, margins = false }: OscillationConditions,
): OscillationChart {
  // the solver goes on to other values: the point stays as it was
  const solved = { ...running, point: { ...running.point, state: running.point.state.slice() } };
  const smallSignal = new SmallSignal(solved.point);
  const modes = naturalFrequencies(pencilOf(smallSignal));
  const participation = new Participation(solved, smallSignal);
  const natural = modes.map((mode) => described(mode, participation.of(mode)));
  const growing = modes.flatMap((mode, k) =>
    grows(mode) && !alone ? [growingOf(solved, mode, natural[k]!.parts, nets)] : [],
  );
  return {
    mode: solved.mode.name,
    natural,
    growing,
    ...(margins && {
      margins: supplyMargins(
        solved,
        modes.filter(grows).map(({ s }) => s),
      ),
    }),
  };
}

function described({ s }: Mode, parts: readonly Participant[]): NaturalFrequency {
  const q = Math.hypot(s.re, s.im) / (2 * Math.abs(s.re));
  return {
    hertz: s.im / (2 * Math.PI),
    growth_per_second: s.re,
    ...(Number.isFinite(q) && { q }),
    parts,
  };
}

function growingOf(
  solved: SolvedMode,
  mode: Mode,
  parts: readonly Participant[],
  nets: readonly string[],
): Growing {
  const swings = mode.s.im > 0;
  const steady = swings ? steadySwing(solved, mode, nets) : undefined;
  const hertz = (steady?.cycle?.omega ?? mode.s.im) / (2 * Math.PI);
  return {
    hertz: mode.s.im / (2 * Math.PI),
    growth_per_second: mode.s.re,
    kind: kindOfGrowth(solved.circuit, mode, parts),
    parts: namedParts(solved.circuit, parts),
    start: startMargin(solved, mode, parts),
    ...(steady && { steady: steady.result }),
    traps: swings ? traps(solved, hertz, steady?.cycle) : [],
  };
}

/** Share of the strongest with which a part is named. */
const NAMED = 0.2;
const MOST_NAMED = 6;
/** Motorboating is slow, Hz, and goes through an electrolytic or a battery to a noticeable share. */
const SLOW = 500;
const INVOLVED = 0.05;
const SUPPLY = new Set(["electrolytic", "battery"]);

/** The strongest parts, and the strongest transistor at the end if it is not one of them. */
function namedParts({ parts: all }: Circuit, parts: readonly Participant[]): string[] {
  const named = parts
    .filter(({ participation }) => participation >= NAMED)
    .slice(0, MOST_NAMED)
    .map(({ part }) => part);
  const isTransistor = (name: string) => all.some((part) => part.name === name && part.kind === "transistor");
  const active = parts.find(({ part }) => isTransistor(part))?.part;
  return active === undefined || named.includes(active) ? named : [...named, active];
}

function kindOfGrowth({ parts: all }: Circuit, { s }: Mode, parts: readonly Participant[]): GrowthKind {
  const involved = parts.filter(({ participation }) => participation >= INVOLVED).map(({ part }) => part);
  const supply = all.some(({ name, kind }) => SUPPLY.has(kind) && involved.includes(name));
  if (supply && Math.hypot(s.re, s.im) < 2 * Math.PI * SLOW) return "motorboating";
  return s.im > 0 ? "oscillation" : "latching";
}
