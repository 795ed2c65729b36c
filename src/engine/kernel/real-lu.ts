import type { Elimination } from "./elimination.ts";
import { FixedStage, LEAST_PIVOT } from "./fixed-stage.ts";

/**
 * Replay of a recorded elimination on real values: a constant part, loaded with `fix`, and what is added
 * to it with every `factor`. Nothing is allocated after construction.
 */
export class RealLu {
  readonly elimination: Elimination;
  readonly #stage: FixedStage;
  readonly #lu: Float64Array;
  readonly #inverse: Float64Array;
  readonly #y: Float64Array;
  /** Where each column lies in the row being worked on. */
  readonly #entryAt: Int32Array;
  readonly #firstEntry: number;

  constructor(elimination: Elimination) {
    this.elimination = elimination;
    this.#stage = new FixedStage(elimination);
    this.#lu = new Float64Array(elimination.column.length);
    this.#inverse = new Float64Array(elimination.size);
    this.#y = new Float64Array(elimination.size);
    this.#entryAt = new Int32Array(elimination.size);
    this.#firstEntry = elimination.start[elimination.fixed];
  }

  /** Loads the constant part by slot. Returns false if the order does not suit it. */
  fix(constant: Float64Array): boolean {
    return this.#stage.load(constant);
  }

  /**
   * Adds `values[k]` to the matrix at `slots[k]` for all k and factors it. Returns false if a pivot turned
   * out too small: the values need an order of their own. Slots must be among the varying ones.
   */
  factor(slots: Int32Array, values: Float64Array): boolean {
    const { size, fixed, start, firstVarying, diagonal, column, entryOfSlot } = this.elimination;
    const entryAt = this.#entryAt;
    const lu = this.#lu;
    const inverse = this.#inverse;
    const { entries } = this.#stage;
    for (let e = this.#firstEntry; e < lu.length; e++) lu[e] = entries[e];
    for (let s = 0; s < slots.length; s++) lu[entryOfSlot[slots[s]]] += values[s];
    let sound = true;
    for (let i = fixed; i < size; i++) {
      for (let e = firstVarying[i]; e < start[i + 1]; e++) entryAt[column[e]] = e;
      for (let e = firstVarying[i]; e < diagonal[i]; e++) {
        const k = column[e];
        const l = lu[e] * inverse[k];
        lu[e] = l;
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) lu[entryAt[column[u]]] -= l * lu[u];
      }
      const pivot = lu[diagonal[i]];
      let largest = 0;
      for (let u = diagonal[i] + 1; u < start[i + 1]; u++) largest = Math.max(largest, Math.abs(lu[u]));
      if (!(Math.abs(pivot) > LEAST_PIVOT * largest) || pivot === 0) sound = false;
      inverse[i] = 1 / pivot;
    }
    return sound;
  }

  /** x ← A⁻¹·b; `b` by row, `x` by unknown; they may be the same array. */
  solve(b: Float64Array, x: Float64Array): void {
    const { size, fixed, start, firstVarying, diagonal, column, pivotColumn } = this.elimination;
    const lu = this.#lu;
    const y = this.#y;
    this.#stage.forward(b, y);
    for (let i = fixed; i < size; i++) {
      let sum = y[i];
      for (let e = firstVarying[i]; e < diagonal[i]; e++) sum -= lu[e] * y[column[e]];
      y[i] = sum;
    }
    for (let i = size - 1; i >= fixed; i--) {
      let sum = y[i];
      for (let e = diagonal[i] + 1; e < start[i + 1]; e++) sum -= lu[e] * y[column[e]];
      y[i] = sum * this.#inverse[i];
    }
    this.#stage.backward(y);
    for (let i = 0; i < size; i++) x[pivotColumn[i]] = y[i];
  }
}
