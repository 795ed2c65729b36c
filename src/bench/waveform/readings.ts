import { buildUp } from "./build-up.ts";
import type { Tone } from "./conditions.ts";
import type { History } from "./history.ts";
import { periodicEnd } from "./periodic.ts";
import type { TraceReading } from "./results.ts";
import { Series } from "./series.ts";

/** A trace has settled when it stays within this share of all its travel. */
const SETTLED = 0.01;

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
  const settled = periodic === undefined ? settledAt(series, greatest - least, points.gap) : undefined;
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
 * When a trace comes to stay near its last value; nothing for one that never moves, or that did where points are
 * forgotten.
 */
function settledAt({ seconds, values }: Series, travel: number, gap?: number): number | undefined {
  if (!(travel > 0)) return undefined;
  const end = values.at(-1)!;
  const last = values.findLastIndex((value) => Math.abs(value - end) > SETTLED * travel);
  if (gap !== undefined && last < gap) return undefined;
  if (last < 0) return 0;
  // straight between the last point outside and the first inside
  const [a, b] = [last, last + 1].map((k) => Math.abs(values[k]! - end) - SETTLED * travel);
  return seconds[last]! + ((seconds[last + 1]! - seconds[last]!) * a!) / (a! - b!);
}
