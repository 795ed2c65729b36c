import type { SignalPath } from "../../circuit/circuit.ts";
import { sweepPaths } from "../response.ts";
import type { SolvedMode } from "../run.ts";
import { switchedParts } from "./switched.ts";
import { Workpiece } from "./without.ts";

/** What a part does to one curve: the curve with it less the curve without it, dB. */
export interface PartEffect {
  readonly path: string;
  /** Without the part next to nothing arrives: it carries the signal, and the rest is null. */
  readonly carries: boolean;
  /** At the reference frequency. */
  readonly level_db: number | null;
  /** The greatest change of the curve's shape (beside that of its level), and where. */
  readonly shape_db: number | null;
  readonly shape_hertz: number | null;
  /** As long as `hertz`; shape alone, re the reference frequency. */
  readonly change_db: readonly number[] | null;
}

/** A part that the switches connect in one of the modes only. */
export interface SwitchedEffect {
  readonly part: string;
  /** The mode in which it is connected. */
  readonly mode: string;
  readonly effects: readonly [PartEffect, PartEffect];
}

/** A path in its solved mode. */
export interface Side {
  readonly path: SignalPath;
  readonly mode: string;
  readonly solved: SolvedMode;
}

/** A change smaller than this nobody hears or measures, dB. */
export const LEAST_DB = 0.1;
/** A part belongs to one curve if it changes the other by less than this share. */
const ONE_SIDED = 0.1;
/** A part without which so much is missing carries the signal, dB. */
const CARRIED_DB = 40;

/** A curve: its gains (dB) at some frequencies (Hz), and that at the reference. */
interface Curve {
  readonly gains: readonly number[];
  readonly level: number;
}

/** Follows one path while parts are cut out. */
class Bench {
  readonly side: Side;
  readonly hertz: readonly number[];
  readonly #workpiece: Workpiece;
  readonly #whole: Curve | undefined;

  constructor(side: Side, reference: number, hertz: readonly number[]) {
    this.side = side;
    this.hertz = [...hertz, reference];
    this.#workpiece = new Workpiece(side.solved);
    this.#whole = this.#curve();
  }

  #curve(): Curve | undefined {
    const { solved, smallSignal } = this.#workpiece;
    const gains = sweepPaths(solved, [this.side.path], this.hertz, smallSignal).results[0]?.gain_db;
    return gains && { gains: gains.slice(0, -1), level: gains.at(-1)! };
  }

  /** Undefined where the circuit without the part cannot be solved. */
  effect(part: number): PartEffect | undefined {
    const bare = this.#workpiece.without(part, () => this.#curve());
    const whole = this.#whole;
    if (bare === undefined || whole === undefined) return undefined;
    const path = this.side.path.name;
    const level = whole.level - bare.level;
    if (level > CARRIED_DB) return { path, carries: true, ...UNKNOWN };
    const change = whole.gains.map((gain, i) => gain - bare.gains[i]! - level);
    const at = change.reduce((best, each, i) => (Math.abs(each) > Math.abs(change[best]!) ? i : best), 0);
    return {
      path,
      carries: false,
      level_db: level,
      shape_db: change[at]!,
      shape_hertz: this.hertz[at]!,
      change_db: change,
    };
  }
}

const UNKNOWN = { level_db: null, shape_db: null, shape_hertz: null, change_db: null };

const sizeOf = ({ carries, level_db, shape_db }: PartEffect): number =>
  carries ? Number.POSITIVE_INFINITY : Math.abs(level_db ?? 0) + Math.abs(shape_db ?? 0);

/** Whether a part does something where it is connected, and next to nothing in the other mode. */
function oneSided(effects: readonly [PartEffect, PartEffect], connectedIn: 0 | 1): boolean {
  const here = sizeOf(effects[connectedIn]);
  return (
    here >= LEAST_DB && sizeOf(effects[connectedIn === 0 ? 1 : 0]) < ONE_SIDED * Math.min(here, CARRIED_DB)
  );
}

/**
 * What each switched part does to the two curves: it is cut out for signals, the operating point held, and
 * both curves are computed anew. Parts that do less than 0.1 dB, or do it in both modes, are left out.
 */
export function effectsOf(
  sides: readonly [Side, Side],
  reference: number,
  hertz: readonly number[],
): readonly SwitchedEffect[] {
  const [first, second] = sides;
  if (first.mode === second.mode) return [];
  const { parts } = first.solved.circuit;
  const ends = new Set(sides.flatMap(({ path: { from, to } }) => ("part" in to ? [from, to.part] : [from])));
  const { devices } = first.solved.point.network;
  const candidates = switchedParts([first.solved.circuit, second.solved.circuit]).filter(
    ({ part }) => !ends.has(parts[part]!.name) && !devices.some((placed) => placed.part === part),
  );
  if (candidates.length === 0) return [];
  const benches = [new Bench(first, reference, hertz), new Bench(second, reference, hertz)] as const;
  return candidates.flatMap(({ part, connectedIn }) => {
    const [a, b] = [benches[0].effect(part), benches[1].effect(part)];
    if (a === undefined || b === undefined || !oneSided([a, b], connectedIn)) return [];
    return [{ part: parts[part]!.name, mode: sides[connectedIn].mode, effects: [a, b] as const }];
  });
}
