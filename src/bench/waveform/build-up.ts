import type { BuildUp } from "./results.ts";
import type { Series } from "./series.ts";

interface Extreme {
  readonly seconds: number;
  readonly value: number;
}

/** From one turning point to the next: half of what it travels, and when. */
interface Swing extends Extreme {
  readonly amplitude: number;
}

/** Neighbouring growths this near each other, relative, are one. */
const SAME = 0.01;
/** The swing must grow by this, e-folds, over this many half periods. */
const LEAST_GROWTH = 0.5;
const LEAST_SWINGS = 6;
/** Growth is looked for while the swing is below this share of the greatest. */
const SMALL = 0.5;

/** How an oscillation builds up while it is small: where the swing grows evenly for the longest. */
export function buildUp(series: Series): BuildUp | undefined {
  const swings = swingsOf(turningPoints(series));
  // there may be more swings than a call takes arguments
  const greatest = swings.reduce((most, { amplitude }) => Math.max(most, amplitude), 0);
  const large = swings.findIndex(({ amplitude }) => amplitude > SMALL * greatest);
  const small = swings.slice(0, Math.max(0, large));
  let best: readonly [number, number] | undefined;
  for (let first = 0; first + LEAST_SWINGS < small.length; first++) {
    const last = evenUntil(small, first);
    if (last - first < LEAST_SWINGS || folds(small, first, last) < LEAST_GROWTH) continue;
    if (best === undefined || folds(small, first, last) > folds(small, ...best)) best = [first, last];
  }
  if (best === undefined) return undefined;
  const [first, last] = best;
  const span = small[last]!.seconds - small[first]!.seconds;
  return { hertz: (last - first) / (2 * span), growth_per_second: folds(small, first, last) / span };
}

const folds = (swings: readonly Swing[], first: number, last: number) =>
  Math.log(swings[last]!.amplitude / swings[first]!.amplitude);

/** Growth over one whole period, 1/s. */
const growthAt = (swings: readonly Swing[], k: number) =>
  folds(swings, k, k + 2) / (swings[k + 2]!.seconds - swings[k]!.seconds);

function evenUntil(swings: readonly Swing[], first: number): number {
  const growth = growthAt(swings, first);
  if (!(growth > 0)) return first;
  let last = first;
  while (last + 2 < swings.length && Math.abs(growthAt(swings, last) - growth) < SAME * growth) last++;
  return last;
}

/** Maxima and minima, each by the parabola through three points. */
function turningPoints({ seconds, values, length }: Series): Extreme[] {
  const found: Extreme[] = [];
  for (let k = 1; k + 1 < length; k++) {
    const [before, after] = [values[k]! - values[k - 1]!, values[k + 1]! - values[k]!];
    if (before * after >= 0) continue;
    found.push(vertex(seconds.subarray(k - 1, k + 2), values.subarray(k - 1, k + 2)));
  }
  return found;
}

function vertex(t: Float64Array, v: Float64Array): Extreme {
  const [h1, h2] = [t[1]! - t[0]!, t[2]! - t[1]!];
  const [d1, d2] = [(v[1]! - v[0]!) / h1, (v[2]! - v[1]!) / h2];
  const bend = (d2 - d1) / (h1 + h2);
  const slope = (d1 * h2 + d2 * h1) / (h1 + h2);
  const by = -slope / (2 * bend);
  return { seconds: t[1]! + by, value: v[1]! + (slope * by) / 2 };
}

const swingsOf = (extremes: readonly Extreme[]): Swing[] =>
  extremes.slice(1).map(({ seconds, value }, k) => ({
    seconds: (seconds + extremes[k]!.seconds) / 2,
    value,
    amplitude: Math.abs(value - extremes[k]!.value) / 2,
  }));
