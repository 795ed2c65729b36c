import { compileReplay } from "./compiled.ts";
import { type ComplexReplay, measureRows, STRIDE } from "./complex-replay.ts";
import { costOf, type Elimination } from "./elimination.ts";
import { FixedStage, LEAST_PIVOT } from "./fixed-stage.ts";

/** Beyond so many multiply-adds straight-line code grows larger than it is worth. */
const MOST_COMPILED = 5_000;
/** Making machine code takes as long as so many replays by the index lists. */
const REPLAYS_BEFORE_COMPILING = 60;

/**
 * Replay of a recorded elimination on real values: a constant part, loaded with `fix`, and what is added
 * to it with every `factor`. Nothing is allocated after construction, but for the machine code that
 * takes over after some replays: the complex one's, with no entry that varies with frequency.
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
  #machine: ComplexReplay | undefined;
  #replaysLeft: number;
  #rowsMeasured = false;

  constructor(elimination: Elimination, compiles = true) {
    this.elimination = elimination;
    this.#stage = new FixedStage(elimination);
    this.#lu = new Float64Array(elimination.column.length);
    this.#inverse = new Float64Array(elimination.size);
    this.#y = new Float64Array(elimination.size);
    this.#entryAt = new Int32Array(elimination.size);
    this.#firstEntry = elimination.start[elimination.fixed];
    const worth = compiles && costOf(elimination).factor <= MOST_COMPILED;
    this.#replaysLeft = worth ? REPLAYS_BEFORE_COMPILING : Number.POSITIVE_INFINITY;
  }

  /** Loads the constant part by slot. Returns false if the order does not suit it. */
  fix(constant: Float64Array): boolean {
    this.#rowsMeasured = false;
    return this.#stage.load(constant);
  }

  /**
   * Adds `values[k]` to the matrix at `slots[k]` for all k and factors it. Returns false if a pivot turned
   * out too small: the values need an order of their own. Slots must be among the varying ones.
   */
  factor(slots: Int32Array, values: Float64Array): boolean {
    if (--this.#replaysLeft < 0) this.#compile();
    const machine = this.#machine;
    const { entryOfSlot } = this.elimination;
    const lu = machine === undefined ? this.#lu : machine.g;
    const { entries } = this.#stage;
    for (let e = this.#firstEntry; e < lu.length; e++) lu[e] = entries[e];
    for (let s = 0; s < slots.length; s++) lu[entryOfSlot[slots[s]]] += values[s];
    if (machine === undefined) return this.#eliminate();
    if (!this.#rowsMeasured) measureRows(machine, this.elimination);
    this.#rowsMeasured = true;
    return machine.factor(0, 0);
  }

  #compile(): void {
    this.#replaysLeft = Number.POSITIVE_INFINITY;
    const constant = { ...this.elimination, isVarying: new Uint8Array(this.elimination.column.length) };
    this.#machine = compileReplay(constant);
  }

  #eliminate(): boolean {
    const { size, fixed, start, firstVarying, diagonal, column } = this.elimination;
    const entryAt = this.#entryAt;
    const lu = this.#lu;
    const inverse = this.#inverse;
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
    const { size, pivotColumn } = this.elimination;
    const y = this.#y;
    this.#stage.forward(b, y);
    if (this.#machine === undefined) this.#substitute(y);
    else this.#substituteBy(this.#machine, y);
    this.#stage.backward(y);
    for (let i = 0; i < size; i++) x[pivotColumn[i]] = y[i];
  }

  #substituteBy(machine: ComplexReplay, y: Float64Array): void {
    const { size, fixed } = this.elimination;
    for (let i = fixed; i < size; i++) machine.b[STRIDE * i] = y[i];
    machine.solve();
    for (let i = fixed; i < size; i++) y[i] = machine.x[STRIDE * i];
  }

  #substitute(y: Float64Array): void {
    const { size, fixed, start, firstVarying, diagonal, column } = this.elimination;
    const lu = this.#lu;
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
  }

  /** z ← A⁻ᵀ·w; `w` by unknown, `z` by row; they must not be the same array. */
  solveTransposed(w: Float64Array, z: Float64Array): void {
    const { size, fixed, start, firstVarying, diagonal, column, pivotRow, pivotColumn } = this.elimination;
    const { entries, inverse: fixedInverse } = this.#stage;
    const machine = this.#machine;
    const [lu, inverse, stride] =
      machine === undefined ? [this.#lu, this.#inverse, 1] : [machine.lu, machine.inverse, STRIDE];
    const y = this.#y;
    for (let i = 0; i < size; i++) y[i] = w[pivotColumn[i]];
    for (let i = 0; i < size; i++) {
      if (y[i] === 0) continue;
      const isFixed = i < fixed;
      y[i] *= isFixed ? fixedInverse[i] : inverse[stride * i];
      for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
        y[column[e]] -= (isFixed ? entries[e] : lu[stride * e]) * y[i];
      }
    }
    for (let i = size - 1; i >= 0; i--) {
      if (y[i] === 0) continue;
      for (let e = firstVarying[i]; e < diagonal[i]; e++) y[column[e]] -= lu[stride * e] * y[i];
      for (let e = start[i]; e < firstVarying[i]; e++) y[column[e]] -= entries[e] * y[i];
    }
    for (let i = 0; i < size; i++) z[pivotRow[i]] = y[i];
  }
}
