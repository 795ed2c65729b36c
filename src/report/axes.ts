/** Axes of plots: their limits, marks and labels. */
import { SILENCE_DB } from "./numbers.ts";

/** How far below the greatest gain a plot reaches at most, dB. */
const DEEPEST = 100;
/** The least span of a gain axis, dB. */
const LEAST_SPAN = 10;
const STEPS = [1, 2, 5, 10, 20, 50] as const;

/** What an axis has to hold. */
interface Levels {
  readonly points: readonly { readonly hertz: number; readonly gain: number }[];
}

interface Phases {
  readonly points: readonly { readonly phase: number | undefined }[];
}

export interface Axis {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
}

/** A gain axis in round steps, at most `intervals` of them, that holds the curves; notches may leave it. */
export function gainAxis(curves: readonly Levels[], intervals: number): Axis {
  const heard = curves
    .flatMap(({ points }) => points.map(({ gain }) => gain))
    .filter((gain) => gain > SILENCE_DB);
  const greatest = heard.length > 0 ? Math.max(...heard) : 0;
  const least = Math.max(greatest - DEEPEST, heard.length > 0 ? Math.min(...heard) : -LEAST_SPAN);
  const spare = Math.max(0, LEAST_SPAN - (greatest - least)) / 2;
  return roundAxis(least - spare, greatest + spare, STEPS, intervals);
}

/** A phase axis in steps of a fraction or multiple of a right angle. */
export function phaseAxis(curves: readonly Phases[], intervals: number): Axis {
  const phases = curves.flatMap(({ points }) =>
    points.flatMap(({ phase }) => (phase === undefined ? [] : [phase])),
  );
  if (phases.length === 0) return roundAxis(-90, 90, [45, 90], intervals);
  const [least, greatest] = [Math.min(...phases), Math.max(...phases)];
  const spare = Math.max(0, 90 - (greatest - least)) / 2;
  return roundAxis(least - spare, greatest + spare, [45, 90, 180, 360, 720, 1440], intervals);
}

function roundAxis(least: number, greatest: number, steps: readonly number[], intervals: number): Axis {
  const step = steps.find((size) => roundedSpan(least, greatest, size) / size <= intervals) ?? steps.at(-1)!;
  const low = step * Math.floor(least / step + 1e-9);
  const high = step * Math.ceil(greatest / step - 1e-9);
  const count = Math.round((high - low) / step);
  return { low, high, ticks: Array.from({ length: count + 1 }, (_, i) => low + i * step) };
}

const roundedSpan = (least: number, greatest: number, step: number): number =>
  step * (Math.ceil(greatest / step - 1e-9) - Math.floor(least / step + 1e-9));

export interface FrequencyAxis {
  readonly low: number;
  readonly high: number;
  /** Where a mark stands. */
  readonly marks: readonly number[];
  /** Where a label stands. */
  readonly labels: readonly number[];
}

/** Fewer decades than this have no room for preferred frequencies: evenly spaced ones are labelled. */
const NARROW = 0.7;

/**
 * A logarithmic axis: marks at every whole multiple of a decade, labels at the preferred frequencies
 * 1, 2, 5 of each decade (a selection from the series of ISO 266), or at whole decades where
 * `perDecade` is less than 3.
 */
export function frequencyAxis(
  curves: readonly Levels[],
  perDecade: (decades: number) => number,
): FrequencyAxis {
  const all = curves.flatMap(({ points }) => points.map((point) => point.hertz));
  const [least, greatest] = all.length > 0 ? [Math.min(...all), Math.max(...all)] : [20, 20e3];
  const [low, high] = greatest / least < 1.01 ? [least / 2, greatest * 2] : [least, greatest];
  const decades = Math.log10(high / low);
  if (decades < NARROW) {
    const even = evenly(low, high);
    return { low, high, marks: even, labels: even };
  }
  const marks = multiples(low, high, [1, 2, 3, 4, 5, 6, 7, 8, 9]);
  const labelled = perDecade(decades) >= 3 ? [1, 2, 5] : [1];
  return { low, high, marks, labels: multiples(low, high, labelled) };
}

/** `digits` times every power of ten, within the limits. */
function multiples(low: number, high: number, digits: readonly number[]): readonly number[] {
  const first = Math.floor(Math.log10(low));
  const last = Math.floor(Math.log10(high));
  return Array.from({ length: last - first + 1 }, (_, i) => first + i).flatMap((exponent) =>
    digits
      .map((digit) => Number(`${digit}e${exponent}`))
      .filter((value) => value >= low * (1 - 1e-9) && value <= high * (1 + 1e-9)),
  );
}

/** Four to eight round values within the limits. */
function evenly(low: number, high: number): readonly number[] {
  const power = 10 ** Math.floor(Math.log10((high - low) / 4));
  const step = [1, 2, 5, 10].map((size) => size * power).find((size) => (high - low) / size <= 8)!;
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}
