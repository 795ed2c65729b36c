import { LANES, STRIDE } from "./complex-replay.ts";
import type { Elimination } from "./elimination.ts";

export const BYTES = 8;
/** One complex number of both lanes, and its imaginary half. */
export const NUMBER = STRIDE * BYTES;
export const IMAGINARY = LANES * BYTES;

/** Addresses in bytes. */
export interface Places {
  readonly g: number;
  readonly c: number;
  readonly lu: number;
  readonly inverse: number;
  readonly b: number;
  readonly x: number;
  readonly leastG: number;
  readonly leastC: number;
  readonly end: number;
}

export function placesOf({ column, size }: Elimination): Places {
  const doubles = Math.ceil(column.length / 2) * 2 * BYTES;
  const g = 0;
  const c = g + doubles;
  const lu = c + doubles;
  const inverse = lu + column.length * NUMBER;
  const b = inverse + size * NUMBER;
  const x = b + size * NUMBER;
  const leastG = x + size * NUMBER;
  const leastC = leastG + size * BYTES;
  return { g, c, lu, inverse, b, x, leastG, leastC, end: leastC + size * BYTES };
}
