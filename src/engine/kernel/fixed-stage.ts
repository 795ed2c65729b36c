import type { Elimination } from "./elimination.ts";

/** A pivot smaller than this share of its row's largest entry of U calls for a new order. */
export const LEAST_PIVOT = 1e-7;

/**
 * The first stage of every replay: the constant values are loaded and the fixed pivots eliminated from
 * all rows, in real arithmetic. Fixed rows are then finished; in the varying rows lies what the second
 * stage starts from.
 */
export class FixedStage {
  readonly elimination: Elimination;
  /** Entries of L and U after this stage. */
  readonly entries: Float64Array;
  /** 1 / pivot of the fixed rows. */
  readonly inverse: Float64Array;
  /** Where each column lies in the row being worked on. */
  readonly #entryAt: Int32Array;

  constructor(elimination: Elimination) {
    this.elimination = elimination;
    this.entries = new Float64Array(elimination.column.length);
    this.inverse = new Float64Array(elimination.fixed);
    this.#entryAt = new Int32Array(elimination.size);
  }

  /** Loads constant values by slot. Returns false if a fixed pivot turned out too small. */
  load(values: Float64Array): boolean {
    const { size, fixed, start, firstVarying, diagonal, column, entryOfSlot } = this.elimination;
    const { entries, inverse } = this;
    const entryAt = this.#entryAt;
    entries.fill(0);
    for (let s = 0; s < entryOfSlot.length; s++) entries[entryOfSlot[s]] += values[s];
    let sound = true;
    for (let i = 0; i < size; i++) {
      if (start[i] < firstVarying[i]) {
        for (let e = start[i]; e < start[i + 1]; e++) entryAt[column[e]] = e;
      }
      for (let e = start[i]; e < firstVarying[i]; e++) {
        const k = column[e];
        const l = entries[e] * inverse[k];
        entries[e] = l;
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) entries[entryAt[column[u]]] -= l * entries[u];
      }
      if (i >= fixed) continue;
      const pivot = entries[diagonal[i]];
      let largest = 0;
      for (let u = diagonal[i] + 1; u < start[i + 1]; u++) largest = Math.max(largest, Math.abs(entries[u]));
      if (!(Math.abs(pivot) > LEAST_PIVOT * largest) || pivot === 0) sound = false;
      inverse[i] = 1 / pivot;
    }
    return sound;
  }

  /** y ← L⁻¹·b as far as the fixed multipliers go, by place in the elimination. */
  forward(b: Float64Array, y: Float64Array): void {
    const { size, start, firstVarying, column, pivotRow } = this.elimination;
    const { entries } = this;
    for (let i = 0; i < size; i++) {
      let sum = b[pivotRow[i]];
      for (let e = start[i]; e < firstVarying[i]; e++) sum -= entries[e] * y[column[e]];
      y[i] = sum;
    }
  }

  /** Finishes the fixed rows of a solution whose varying rows are known, in place. */
  backward(y: Float64Array): void {
    const { fixed, start, diagonal, column } = this.elimination;
    const { entries } = this;
    for (let i = fixed - 1; i >= 0; i--) {
      let sum = y[i];
      for (let e = diagonal[i] + 1; e < start[i + 1]; e++) sum -= entries[e] * y[column[e]];
      y[i] = sum * this.inverse[i];
    }
  }
}
