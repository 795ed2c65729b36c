import { costOf, type Elimination } from "./elimination.ts";
import { FixedStage } from "./fixed-stage.ts";
import { compileReal, type RealMachine } from "./real-code.ts";

/** Beyond so many multiply-adds straight-line code grows larger than it is worth. */
const MOST_COMPILED = 5_000;
/** Making machine code takes as long as so many replays by the index lists. */
const REPLAYS_BEFORE_COMPILING = 60;

/**
 * Replay of a recorded elimination on real values: a constant part, loaded with `fix`, and what is added
 * to it with every `factor`. Nothing is allocated after construction, but for the machine code that
 * takes over after some replays.
 */
export class RealLu {
  readonly elimination: Elimination;
  readonly #stage: FixedStage;
  /** L and U of all rows, and 1/pivot by place; the machine's own once there is one. */
  #lu: Float64Array;
  #inverse: Float64Array;
  readonly #y: Float64Array;
  /** The row being worked on, by column. */
  readonly #row: Float64Array;
  #machine: RealMachine | undefined;
  #replaysLeft: number;

  constructor(elimination: Elimination, compiles = true) {
    this.elimination = elimination;
    this.#stage = new FixedStage(elimination);
    this.#lu = new Float64Array(elimination.column.length);
    this.#inverse = new Float64Array(elimination.size);
    this.#y = new Float64Array(elimination.size);
    this.#row = new Float64Array(elimination.size);
    const worth = compiles && costOf(elimination).factor <= MOST_COMPILED;
    this.#replaysLeft = worth ? REPLAYS_BEFORE_COMPILING : Number.POSITIVE_INFINITY;
  }

  /** Loads the constant part by slot. Returns false if the order does not suit it. */
  fix(constant: Float64Array): boolean {
    const sound = this.#stage.load(constant);
    this.#inverse.set(this.#stage.inverse);
    return sound;
  }

  /**
   * Adds `values[k]` to the matrix at `slots[k]` for all k and factors it. Returns false if a pivot turned
   * out too small: the values need an order of their own. Slots must be among the varying ones.
   */
  factor(slots: Int32Array, values: Float64Array): boolean {
    if (--this.#replaysLeft < 0) this.#compile();
    const { entryOfSlot } = this.elimination;
    const lu = this.#lu;
    lu.set(this.#stage.entries);
    for (let s = 0; s < slots.length; s++) lu[entryOfSlot[slots[s]]] += values[s];
    return this.#machine === undefined ? this.#eliminate() : this.#machine.factor();
  }

  #compile(): void {
    this.#replaysLeft = Number.POSITIVE_INFINITY;
    const machine = compileReal(this.elimination);
    if (machine === undefined) return;
    machine.inverse.set(this.#inverse);
    this.#machine = machine;
    this.#lu = machine.lu;
    this.#inverse = machine.inverse;
  }

  #eliminate(): boolean {
    const { size, fixed } = this.elimination;
    let sound = true;
    for (let i = fixed; i < size; i++) {
      this.#reduce(i);
      if (!this.#finish(i)) sound = false;
    }
    return sound;
  }

  /** Takes the multiples of the varying rows above from row i. */
  #reduce(i: number): void {
    const { start, firstVarying, diagonal, column } = this.elimination;
    const row = this.#row;
    const lu = this.#lu;
    const inverse = this.#inverse;
    const end = diagonal[i];
    for (let e = firstVarying[i]; e < start[i + 1]; e++) row[column[e]] = lu[e];
    for (let e = firstVarying[i]; e < end; e++) {
      const k = column[e];
      const l = row[k] * inverse[k];
      lu[e] = l;
      const last = start[k + 1];
      for (let u = diagonal[k] + 1; u < last; u++) row[column[u]] -= l * lu[u];
    }
  }

  /** Keeps what is left of row i as its row of U, and 1/pivot; false if the pivot is too small. */
  #finish(i: number): boolean {
    const { start, diagonal, column, leastPivot } = this.elimination;
    const row = this.#row;
    const lu = this.#lu;
    const pivot = row[i];
    let sum = 0;
    lu[diagonal[i]] = pivot;
    for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
      const entry = row[column[e]];
      lu[e] = entry;
      sum += Math.abs(entry);
    }
    this.#inverse[i] = 1 / pivot;
    return Math.abs(pivot) > leastPivot * sum;
  }

  /** x ← A⁻¹·b; `b` by row, `x` by unknown; they may be the same array. */
  solve(b: Float64Array, x: Float64Array): void {
    const { size, pivotColumn } = this.elimination;
    const machine = this.#machine;
    if (machine !== undefined) {
      for (let i = 0; i < size; i++) machine.b[i] = b[i];
      machine.solve();
      x.set(machine.x);
      return;
    }
    const y = this.#y;
    this.#substitute(b, y);
    for (let i = 0; i < size; i++) x[pivotColumn[i]] = y[i];
  }

  #substitute(b: Float64Array, y: Float64Array): void {
    const { size, start, diagonal, column, pivotRow } = this.elimination;
    const lu = this.#lu;
    for (let i = 0; i < size; i++) {
      let sum = b[pivotRow[i]];
      for (let e = start[i]; e < diagonal[i]; e++) sum -= lu[e] * y[column[e]];
      y[i] = sum;
    }
    for (let i = size - 1; i >= 0; i--) {
      let sum = y[i];
      for (let e = diagonal[i] + 1; e < start[i + 1]; e++) sum -= lu[e] * y[column[e]];
      y[i] = sum * this.#inverse[i];
    }
  }

  /** z ← A⁻ᵀ·w; `w` by unknown, `z` by row; they must not be the same array. */
  solveTransposed(w: Float64Array, z: Float64Array): void {
    const { size, start, diagonal, column, pivotRow, pivotColumn } = this.elimination;
    const lu = this.#lu;
    const y = this.#y;
    for (let i = 0; i < size; i++) y[i] = w[pivotColumn[i]];
    for (let i = 0; i < size; i++) {
      if (y[i] === 0) continue;
      y[i] *= this.#inverse[i];
      for (let e = diagonal[i] + 1; e < start[i + 1]; e++) y[column[e]] -= lu[e] * y[i];
    }
    for (let i = size - 1; i >= 0; i--) {
      if (y[i] === 0) continue;
      for (let e = start[i]; e < diagonal[i]; e++) y[column[e]] -= lu[e] * y[i];
    }
    for (let i = 0; i < size; i++) z[pivotRow[i]] = y[i];
  }
}
