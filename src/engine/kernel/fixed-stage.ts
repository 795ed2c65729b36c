import { costOf, type Elimination } from "./elimination.ts";

/** Up to so many multiply-adds the entries that they change are listed one by one. */
const MOST_LISTED = 5_000;

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
  /** Rows with multiples of fixed rows, ascending. */
  readonly #touched: Int32Array;
  /** For each multiply-add, in the order of the elimination, the entry that it changes, if they are listed. */
  readonly #targets: Int32Array | undefined;
  /** The row being worked on, by column, where changes are not listed. */
  readonly #row: Float64Array;

  constructor(elimination: Elimination) {
    const { size, start, firstVarying } = elimination;
    this.elimination = elimination;
    this.entries = new Float64Array(elimination.column.length);
    this.inverse = new Float64Array(elimination.fixed);
    this.#row = new Float64Array(size);
    const rows = Int32Array.from({ length: size }, (_, i) => i);
    this.#touched = rows.filter((i) => start[i] < firstVarying[i]);
    if (costOf(elimination).fixedFactor <= MOST_LISTED) this.#targets = this.#listed();
  }

  #listed(): Int32Array {
    const { start, firstVarying, diagonal, column } = this.elimination;
    const targets: number[] = [];
    const entryAt = new Int32Array(this.elimination.size);
    for (const i of this.#touched) {
      for (let e = start[i]; e < start[i + 1]; e++) entryAt[column[e]] = e;
      for (let e = start[i]; e < firstVarying[i]; e++) {
        const k = column[e];
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) targets.push(entryAt[column[u]]);
      }
    }
    return Int32Array.from(targets);
  }

  /** Loads constant values by slot. Returns false if a fixed pivot turned out too small. */
  load(values: Float64Array): boolean {
    const { entryOfSlot, fixed } = this.elimination;
    const { entries } = this;
    entries.fill(0);
    for (let s = 0; s < entryOfSlot.length; s++) entries[entryOfSlot[s]] += values[s];
    const touched = this.#touched;
    let next = 0;
    let sound = true;
    let done = 0;
    for (let i = 0; i < fixed; i++) {
      if (touched[next] === i) {
        done = this.#reduce(i, done);
        next++;
      }
      if (!this.#invert(i)) sound = false;
    }
    for (; next < touched.length; next++) done = this.#reduce(touched[next], done);
    return sound;
  }

  /** Takes the multiples of fixed rows from row i; `done` multiply-adds were before it. Returns how many are now. */
  #reduce(i: number, done: number): number {
    const targets = this.#targets;
    if (targets === undefined) {
      this.#reduceByColumn(i);
      return done;
    }
    const { start, firstVarying, diagonal, column } = this.elimination;
    const { entries, inverse } = this;
    let next = done;
    for (let e = start[i]; e < firstVarying[i]; e++) {
      const k = column[e];
      const l = entries[e] * inverse[k];
      const end = start[k + 1];
      entries[e] = l;
      for (let u = diagonal[k] + 1; u < end; u++) entries[targets[next++]] -= l * entries[u];
    }
    return next;
  }

  #reduceByColumn(i: number): void {
    const { start, firstVarying, diagonal, column } = this.elimination;
    const { entries, inverse } = this;
    const row = this.#row;
    const [first, end] = [firstVarying[i], start[i + 1]];
    for (let e = start[i]; e < end; e++) row[column[e]] = entries[e];
    for (let e = start[i]; e < first; e++) {
      const k = column[e];
      const l = row[k] * inverse[k];
      const last = start[k + 1];
      entries[e] = l;
      for (let u = diagonal[k] + 1; u < last; u++) row[column[u]] -= l * entries[u];
    }
    for (let e = first; e < end; e++) entries[e] = row[column[e]];
  }

  /** Notes 1/pivot of a fixed row that is finished; false if the pivot is too small. */
  #invert(i: number): boolean {
    const { start, diagonal, leastPivot } = this.elimination;
    const { entries } = this;
    const pivot = entries[diagonal[i]];
    let sum = 0;
    for (let u = diagonal[i] + 1; u < start[i + 1]; u++) sum += Math.abs(entries[u]);
    this.inverse[i] = 1 / pivot;
    return Math.abs(pivot) > leastPivot * sum;
  }

  /** y ← L⁻¹·b as far as the fixed multipliers go, by place in the elimination. */
  forward(b: Float64Array, y: Float64Array): void {
    const { size, start, firstVarying, column, pivotRow } = this.elimination;
    const { entries } = this;
    for (let i = 0; i < size; i++) y[i] = b[pivotRow[i]];
    for (const i of this.#touched) {
      let sum = y[i];
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
