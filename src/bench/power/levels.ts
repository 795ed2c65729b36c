import type { DrivenCircuit } from "../../engine/steady/driven.ts";
import type { OutputMeter } from "./output.ts";
import type { PowerLimit, PowerPoint } from "./results.ts";

/**
 * Where the old data sheets state the output power of a stage, and where its gain has visibly fallen: common
 * practice, no source.
 */
const DISTORTION = 0.1;
const GAIN_DB = 1;
/** Levels follow each other by this ratio, 3 dB, if they are not given; so many at most. */
const RATIO = 10 ** (3 / 20);
const MOST_LEVELS = 30;
/** The first of them makes this share of the greatest battery's EMF at the output, V or (into 1 Ω) A. */
const FIRST = 0.003;
/** A limit is found to 1 % of the distortion, 0.01 dB of the gain, in so many tries at most. */
const FOUND = 0.01;
const TRIES = 8;

export interface Levels {
  readonly points: readonly PowerPoint[];
  readonly limits: readonly PowerLimit[];
  readonly lost_above_volts?: number;
  readonly interrupted?: true;
}

type Excess = (point: PowerPoint) => number;

/** Above 0 beyond the limit. `greatest` is the greatest gain at lower levels, dB. */
const limitsFor = (greatest: number): Readonly<Record<PowerLimit["what"], Excess>> => ({
  "10 % distortion": ({ distortion }) => Math.log(Math.max(1e-12, distortion) / DISTORTION),
  "1 dB less gain": ({ gain_db }) => greatest - GAIN_DB - gain_db,
});

/** Level after level; yields after each, and whoever answers true ends it. */
export function* levels(
  circuit: DrivenCircuit,
  meter: OutputMeter,
  given: readonly number[] | undefined,
  supply: number,
): Generator<number, Levels, boolean | undefined> {
  const points: PowerPoint[] = [];
  const at = (emf: number) => {
    const steady = circuit.at(Math.SQRT2 * emf);
    return steady && meter.read(steady, emf);
  };
  const wanted = given ?? usual(meter, supply);
  let lost: number | undefined;
  let interrupted = false;
  for (const [k, emf] of wanted.entries()) {
    const point = at(emf);
    if (point === undefined) {
      lost = points.at(-1)?.emf_volts ?? 0;
      break;
    }
    points.push(point);
    if (given === undefined && beyondAll(points)) break;
    interrupted = (yield k / wanted.length) === true && k + 1 < wanted.length;
    if (interrupted) break;
  }
  // who asks for an end does not wait for a search
  const limits = interrupted ? [] : limitsOf(points, at);
  const all = [...points, ...limits.map(({ what: _, ...point }) => point)];
  return {
    points: all.toSorted((a, b) => a.emf_volts - b.emf_volts),
    limits,
    ...(lost !== undefined && { lost_above_volts: lost }),
    ...(interrupted && { interrupted: true as const }),
  };
}

function usual({ smallSignalGain }: OutputMeter, supply: number): number[] {
  const first = (FIRST * (supply || 1)) / Math.max(smallSignalGain, 1e-12);
  return Array.from({ length: MOST_LEVELS }, (_, k) => first * RATIO ** k);
}

const greatestGain = (points: readonly PowerPoint[]) => Math.max(...points.map(({ gain_db }) => gain_db));

const beyondAll = (points: readonly PowerPoint[]): boolean =>
  Object.values(limitsFor(greatestGain(points))).every((excess) => excess(points.at(-1)!) > 0);

/** Every limit passed upwards, the last time that it is: below crossover distortion may be above 10 %, too. */
function limitsOf(points: readonly PowerPoint[], at: (emf: number) => PowerPoint | undefined): PowerLimit[] {
  return Object.entries(limitsFor(greatestGain(points))).flatMap(([what, excess]) => {
    const low = points.findLastIndex((point) => excess(point) <= 0);
    const [inside, outside] = [points[low], points[low + 1]];
    if (inside === undefined || outside === undefined) return [];
    const found = between(inside, outside, excess, at);
    return found === undefined ? [] : [{ what: what as PowerLimit["what"], ...found }];
  });
}

/** By regula falsi over the logarithm of the level, halving every third time. */
function between(
  inside: PowerPoint,
  outside: PowerPoint,
  excess: Excess,
  at: (emf: number) => PowerPoint | undefined,
): PowerPoint | undefined {
  let [low, high] = [inside, outside];
  let best: PowerPoint | undefined;
  for (let tried = 0; tried < TRIES; tried++) {
    const [a, b] = [excess(low), excess(high)];
    const share = tried % 3 === 2 ? 0.5 : Math.min(0.95, Math.max(0.05, -a / (b - a)));
    const next = at(low.emf_volts * (high.emf_volts / low.emf_volts) ** share);
    if (next === undefined) return best;
    best = next;
    const over = excess(next);
    if (Math.abs(over) < FOUND) return next;
    if (over > 0) high = next;
    else low = next;
  }
  return best;
}
