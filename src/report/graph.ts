/** Axes of a plot of one quantity against another, linear or logarithmic. */
import { scaleLinear, scaleLog } from "d3-scale";

export interface GraphPoint {
  readonly x: number;
  /** Null where there is none: the curve has a gap. */
  readonly y: number | null;
}

export interface GraphAxis {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
  /** Where a value lies, 0 at the low end to 1 at the high one. */
  readonly at: (value: number) => number;
}

const linear = (low: number, high: number, count: number): GraphAxis => {
  const scale = scaleLinear([low, high], [0, 1]);
  return { low, high, ticks: scale.ticks(count), at: (value) => scale(value) };
};

export const logarithmic = (low: number, high: number): GraphAxis => {
  const scale = scaleLog([low, high], [0, 1]);
  const decades = Math.log10(high / low);
  const ticks = scale.ticks(8).filter((tick) => {
    const digit = Math.round(tick / 10 ** Math.floor(Math.log10(tick) + 1e-9));
    return digit === 1 || (decades < 3 && (digit === 2 || digit === 5));
  });
  return { low, high, ticks, at: (value) => scale(value) };
};

/** The axis of what is turned, from end to end. */
export const across = (points: readonly GraphPoint[], scale: "linear" | "logarithmic"): GraphAxis => {
  const [low, high] = [points[0]?.x ?? 0, points.at(-1)?.x ?? 1];
  return scale === "linear" ? linear(low, high, 8) : logarithmic(low, high);
};

/** Beyond this ratio a quantity that is never negative is shown on a logarithmic axis. */
const WIDE = 100;

/** An axis in round steps that holds the curve and the values to be marked. */
export function upright(
  points: readonly GraphPoint[],
  marks: readonly number[],
  count: number,
  decibels: boolean,
): GraphAxis {
  const values = [...points.flatMap(({ y }) => (y === null ? [] : [y])), ...marks];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  if (!decibels && low > 0 && high / low > WIDE) return logarithmic(low, high);
  const spare = high > low ? 0 : Math.max(1e-3, Math.abs(high) * 0.05);
  const [from = 0, to = 1] = scaleLinear([low - spare, high + spare], [0, 1])
    .nice(count)
    .domain();
  return linear(from, to, count);
}

/** Runs of points without a gap. */
export function runs(points: readonly GraphPoint[]): readonly (readonly { x: number; y: number }[])[] {
  const found: { x: number; y: number }[][] = [[]];
  for (const { x, y } of points) {
    if (y === null) found.push([]);
    else found.at(-1)!.push({ x, y });
  }
  return found.filter((run) => run.length > 0);
}
