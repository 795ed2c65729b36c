import type { PathResponse } from "../bench/results.ts";
import { finiteDecibels, SILENCE_DB } from "./numbers.ts";

/** The reference frequency of the trade, Hz. */
const REFERENCE = 1000;
/** Half the power, dB below the reference. */
export const HALF_POWER = 10 * Math.log10(2);
/** Between points farther apart than this (an octave) nothing is interpolated. */
const WIDEST_GAP = 2.001;

/** What one reads off a response. Whatever the range or the spacing of the points does not show is undefined. */
export interface Bandwidth {
  /** Gain at 1 kHz, dB. */
  readonly reference_db: number | undefined;
  readonly greatest_db: number;
  readonly greatest_hertz: number;
  /** Nearest half-power (−3 dB) points below and above 1 kHz, re the gain there, Hz. */
  readonly low_hertz: number | undefined;
  readonly high_hertz: number | undefined;
}

interface Point {
  /** Natural logarithm of the frequency in Hz. */
  readonly x: number;
  /** Gain, dB. */
  readonly y: number;
}

function pointsOf({ hertz, gain_db }: PathResponse): readonly Point[] {
  return hertz
    .map((f, i) => ({ x: Math.log(f), y: finiteDecibels(gain_db[i] ?? Number.NaN) }))
    .sort((a, b) => a.x - b.x);
}

const near = (a: Point, b: Point): boolean => Math.abs(a.x - b.x) <= Math.log(WIDEST_GAP);

/** Gain at `x` on the straight line between its neighbours over log frequency. */
function gainAt(points: readonly Point[], x: number): number | undefined {
  const exact = points.find((point) => Math.abs(point.x - x) < 1e-9);
  if (exact !== undefined) return exact.y;
  const above = points.findIndex((point) => point.x > x);
  const [a, b] = [points[above - 1], points[above]];
  if (a === undefined || b === undefined || !near(a, b)) return undefined;
  return a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x);
}

/** Where the gain, walking outward from the first point, first falls to `level`: frequency in Hz. */
function crossing(walk: readonly Point[], level: number): number | undefined {
  for (let i = 1; i < walk.length; i++) {
    const [a, b] = [walk[i - 1]!, walk[i]!];
    if (!near(a, b)) return undefined;
    if (b.y > level) continue;
    return Math.exp(a.x + ((b.x - a.x) * (level - a.y)) / (b.y - a.y));
  }
  return undefined;
}

/**
 * Gain at 1 kHz, greatest gain, and the half-power points about 1 kHz of a response; interpolated in
 * dB over log frequency between points at most an octave apart.
 */
export function bandwidth(response: PathResponse): Bandwidth {
  const points = pointsOf(response);
  const greatest = points.reduce((best, point) => (point.y > best.y ? point : best), points[0] ?? SILENT);
  const x = Math.log(REFERENCE);
  const reference = gainAt(points, x);
  const heard = reference !== undefined && reference > SILENCE_DB;
  const start = { x, y: reference ?? 0 };
  const level = start.y - HALF_POWER;
  const below = points.filter((point) => point.x < x - 1e-9).reverse();
  const above = points.filter((point) => point.x > x + 1e-9);
  return {
    reference_db: heard ? reference : undefined,
    greatest_db: greatest.y,
    greatest_hertz: Math.exp(greatest.x),
    low_hertz: heard ? crossing([start, ...below], level) : undefined,
    high_hertz: heard ? crossing([start, ...above], level) : undefined,
  };
}

const SILENT: Point = { x: 0, y: SILENCE_DB };
