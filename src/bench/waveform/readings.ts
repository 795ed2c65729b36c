import { buildUp } from "./build-up.ts";
import type { Tone } from "./conditions.ts";
import type { History } from "./history.ts";
import { periodicEnd } from "./periodic.ts";
import type { TraceReading } from "./results.ts";
import { Series } from "./series.ts";

/** A trace has settled when it stays within this share of all its travel, for this share of the run at least. */
const SETTLED = 0.01;
const STAYS = 0.05;

/** What is read off one trace, by number, with its extremes over the whole run; `since` is the last event, s. */
export function readTrace(
  points: History,
  trace: number,
  [least, greatest]: readonly [number, number],
  tones: readonly Tone[],
  since = 0,
): TraceReading {
  const series = new Series(points, trace);
  const periodic = periodicEnd(series, tones, since);
  const growth = tones.length > 0 ? undefined : buildUp(series);
  const settled = periodic === undefined ? settledAt(series, greatest - least, since, points.gap) : undefined;
  return {
    least,
    greatest,
    last: series.values.at(-1) ?? 0,
    ...(settled !== undefined && { settled_seconds: settled }),
    ...(periodic && { periodic }),
    ...(growth && { build_up: growth }),
  };
}

/**
 * When a trace comes to stay near its last value; nothing for one that never moves, that did where points are
 * forgotten, that only passes there as the run ends, or that has stayed there as long before and left again.
 */
function settledAt(series: Series, travel: number, since: number, gap?: number): number | undefined {
  if (!(travel > 0)) return undefined;
  const { seconds, values } = series;
  const outside = (k: number) => Math.abs(values[k]! - values.at(-1)!) - SETTLED * travel;
  const last = values.findLastIndex((_, k) => outside(k) > 0);
  if (gap !== undefined && last < gap) return undefined;
  if (last < 0) return 0;
  // straight between the last point outside and the first inside
  const [a, b] = [outside(last), outside(last + 1)];
  const settled = seconds[last]! + ((seconds[last + 1]! - seconds[last]!) * a) / (a - b);
  const stays = series.end - settled;
  if (stays < STAYS * (series.end - series.start)) return undefined;
  return longestStay(seconds, last, since, outside) < stays ? settled : undefined;
}

/** The longest time inside, from `since` to the point numbered `until`, s. */
function longestStay(
  seconds: Series["seconds"],
  until: number,
  since: number,
  outside: (k: number) => number,
): number {
  let longest = 0;
  let entered = Number.POSITIVE_INFINITY;
  for (let k = 0; k <= until; k++) {
    const now = seconds[k]!;
    const away = outside(k) > 0 || now < since;
    entered = away ? Number.POSITIVE_INFINITY : Math.min(entered, now);
    longest = Math.max(longest, now - entered);
  }
  return longest;
}
