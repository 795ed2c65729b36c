import type { Ordering } from "./order.ts";
import type { Pattern } from "./pattern.ts";

/**
 * A recorded elimination: L and U of a permuted matrix share one array of entries, row by row, each with
 * its column, so that a replay only computes.
 *
 *     row i of the permuted matrix     entries start[i] … start[i + 1] − 1, by ascending column:
 *     L, multiples of fixed rows       start[i] … firstVarying[i] − 1
 *     L, multiples of varying rows     firstVarying[i] … diagonal[i] − 1
 *     pivot                            diagonal[i]
 *     U                                diagonal[i] + 1 … start[i + 1] − 1
 *
 * The first `fixed` pivots belong to rows and columns whose values stay while the others vary (with
 * frequency, or from one Newton step to the next). Their work is done once, in a stage of its own.
 */
export interface Elimination {
  readonly size: number;
  readonly fixed: number;
  readonly start: Int32Array;
  readonly firstVarying: Int32Array;
  readonly diagonal: Int32Array;
  /** Column (in elimination order) of each entry. */
  readonly column: Int32Array;
  /** Entry that each slot of the pattern is loaded into. */
  readonly entryOfSlot: Int32Array;
  /** 1 for entries that a varying slot is loaded into. */
  readonly isVarying: Uint8Array;
  /** Row of the matrix that was i-th pivot row, and unknown that was i-th pivot column. */
  readonly pivotRow: Int32Array;
  readonly pivotColumn: Int32Array;
  /** A pivot smaller than this share of its row calls for a new order. */
  readonly leastPivot: number;
}

/** A pivot smaller than this share of its row calls for a new order: seven of sixteen digits may be lost. */
export const LEAST_PIVOT = 1e-7;

/** What a replay costs, in multiply-adds, and what it adds in entries. */
export interface Cost {
  /** Once, when the fixed values change. */
  readonly fixedFactor: number;
  /** Each time the varying values change. */
  readonly factor: number;
  /** Each right-hand side: varying rows only. */
  readonly solve: number;
  /** Entries of L and U beyond those of the matrix. */
  readonly fill: number;
}

/** Deterministic counts of a recorded elimination; divisions by a pivot count as multiplications. */
export function costOf({
  size,
  fixed,
  start,
  firstVarying,
  diagonal,
  column,
  entryOfSlot,
}: Elimination): Cost {
  let fixedFactor = 0;
  let factor = 0;
  let solve = 0;
  for (let i = 0; i < size; i++) {
    for (let e = start[i]; e < diagonal[i]; e++) {
      const k = column[e];
      const multiplications = start[k + 1] - diagonal[k];
      if (e < firstVarying[i]) fixedFactor += multiplications;
      else factor += multiplications;
    }
    if (i >= fixed) solve += start[i + 1] - firstVarying[i];
  }
  return { fixedFactor, factor, solve, fill: column.length - entryOfSlot.length };
}

const inverse = (permutation: Int32Array): Int32Array => {
  const result = new Int32Array(permutation.length);
  for (let k = 0; k < permutation.length; k++) result[permutation[k]] = k;
  return result;
};

/** Columns of each row of L and U in elimination order, ascending. */
function rowsOfFactors({ pivotRow, pivotColumn, upper, lower }: Ordering): Int32Array[] {
  const size = pivotRow.length;
  const place = inverse(pivotColumn);
  const rowPlace = inverse(pivotRow);
  const rows: number[][] = Array.from({ length: size }, () => []);
  for (let k = 0; k < size; k++) {
    for (const row of lower[k]) rows[rowPlace[row]].push(k);
  }
  for (let k = 0; k < size; k++) {
    for (const column of upper[k]) rows[k].push(place[column]);
  }
  return rows.map((columns) => Int32Array.from(columns).sort());
}

/** Writes down the elimination of `pattern` in the given order. `varying` is what the order was made with. */
export function record(pattern: Pattern, ordering: Ordering, varying?: Uint8Array): Elimination {
  const { size } = pattern;
  const { fixed, pivotRow, pivotColumn } = ordering;
  const rows = rowsOfFactors(ordering);
  const start = new Int32Array(size + 1);
  for (let i = 0; i < size; i++) start[i + 1] = start[i] + rows[i].length;
  const column = new Int32Array(start[size]);
  const diagonal = new Int32Array(size);
  const firstVarying = new Int32Array(size);
  for (let i = 0; i < size; i++) {
    column.set(rows[i], start[i]);
    diagonal[i] = start[i] + rows[i].indexOf(i);
    const varying = rows[i].findIndex((k) => k >= fixed);
    firstVarying[i] = Math.min(diagonal[i], varying < 0 ? diagonal[i] : start[i] + varying);
  }
  const entries = { size, fixed, start, firstVarying, diagonal, column };
  const entryOfSlot = loading(pattern, ordering, entries);
  const isVarying = new Uint8Array(column.length);
  for (let s = 0; s < entryOfSlot.length; s++) if (varying?.[s]) isVarying[entryOfSlot[s]] = 1;
  return { ...entries, entryOfSlot, isVarying, pivotRow, pivotColumn, leastPivot: LEAST_PIVOT };
}

type Entries = Pick<Elimination, "size" | "start" | "firstVarying" | "diagonal" | "column">;

function loading(pattern: Pattern, ordering: Ordering, { start, column }: Entries): Int32Array {
  const rowPlace = inverse(ordering.pivotRow);
  const columnPlace = inverse(ordering.pivotColumn);
  return Int32Array.from(pattern.row, (row, slot) => {
    const i = rowPlace[row];
    const j = columnPlace[pattern.column[slot]];
    return start[i] + column.subarray(start[i], start[i + 1]).indexOf(j);
  });
}
