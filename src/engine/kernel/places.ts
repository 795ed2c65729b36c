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
  readonly x: number;
  readonly rowG: number;
  readonly rowC: number;
  readonly end: number;
}

export function placesOf({ column, size }: Elimination): Places {
  const doubles = Math.ceil(column.length / 2) * 2 * BYTES;
  const g = 0;
  const c = g + doubles;
  const lu = c + doubles;
  const inverse = lu + column.length * NUMBER;
  const x = inverse + size * NUMBER;
  const rowG = x + size * NUMBER;
  const rowC = rowG + size * BYTES;
  return { g, c, lu, inverse, x, rowG, rowC, end: rowC + size * BYTES };
}
