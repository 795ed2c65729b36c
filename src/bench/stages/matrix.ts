import { minus, ONE, over, type Phasor, scaled, size, times, ZERO } from "./phasor.ts";

/** A small square matrix of phasors, by rows. */
export type Matrix = readonly (readonly Phasor[])[];

export interface Inverse {
  readonly inverse: Matrix;
  readonly determinant: Phasor;
}

/** Row at or below `k` with the greatest entry in column `k`. */
function pivotRow(rows: readonly (readonly Phasor[])[], k: number): number {
  let best = k;
  for (let r = k + 1; r < rows.length; r++) if (size(rows[r]![k]!) > size(rows[best]![k]!)) best = r;
  return best;
}

/**
 * Inverse and determinant by Gauss-Jordan elimination with row pivoting. For a handful of transistors;
 * a singular matrix has the determinant 0 and an inverse of zeros in the rows that have none.
 */
export function invert(matrix: Matrix): Inverse {
  const n = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...row.map((_, k) => (k === i ? ONE : ZERO))]);
  let determinant: Phasor = ONE;
  for (let k = 0; k < n; k++) {
    const best = pivotRow(rows, k);
    if (best !== k) {
      [rows[k], rows[best]] = [rows[best]!, rows[k]!];
      determinant = scaled(determinant, -1);
    }
    const pivot = rows[k]![k]!;
    determinant = times(determinant, pivot);
    rows[k] = rows[k]!.map((entry) => over(entry, pivot));
    for (let r = 0; r < n; r++) {
      const factor = rows[r]![k]!;
      if (r === k || (factor.re === 0 && factor.im === 0)) continue;
      rows[r] = rows[r]!.map((entry, c) => minus(entry, times(factor, rows[k]![c]!)));
    }
  }
  return { inverse: rows.map((row) => row.slice(n)), determinant };
}
