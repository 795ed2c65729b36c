import type { Elimination } from "./elimination.ts";

/**
 * The replay of a recorded elimination on real and on complex values: the same loops, line for line,
 * once on one array and once on two. `factor` reads the matrix by slot and keeps L, U and the inverse
 * pivots; `solve` reads a right-hand side by row and writes the solution by unknown. Neither allocates.
 */

/** A pivot smaller than this share of its row's largest entry of U calls for a new order. */
const LEAST_PIVOT = 1e-7;

export class RealLu {
  readonly elimination: Elimination;
  readonly #lu: Float64Array;
  readonly #inverse: Float64Array;
  readonly #work: Float64Array;

  constructor(elimination: Elimination) {
    this.elimination = elimination;
    this.#lu = new Float64Array(elimination.column.length);
    this.#inverse = new Float64Array(elimination.size);
    this.#work = new Float64Array(elimination.size);
  }

  /** Returns false if a pivot turned out too small: the values need an order of their own. */
  factor(values: Float64Array): boolean {
    const { size, start, diagonal, column, entryOfSlot, target } = this.elimination;
    const lu = this.#lu;
    const inverse = this.#inverse;
    lu.fill(0);
    for (let s = 0; s < entryOfSlot.length; s++) lu[entryOfSlot[s]] += values[s];
    let t = 0;
    let sound = true;
    for (let i = 0; i < size; i++) {
      for (let e = start[i]; e < diagonal[i]; e++) {
        const k = column[e];
        const l = lu[e] * inverse[k];
        lu[e] = l;
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) lu[target[t++]] -= l * lu[u];
      }
      const pivot = lu[diagonal[i]];
      let largest = 0;
      for (let u = diagonal[i] + 1; u < start[i + 1]; u++) largest = Math.max(largest, Math.abs(lu[u]));
      if (!(Math.abs(pivot) > LEAST_PIVOT * largest) || pivot === 0) sound = false;
      inverse[i] = 1 / pivot;
    }
    return sound;
  }

  /** x ← A⁻¹·b; `b` and `x` may be the same array. */
  solve(b: Float64Array, x: Float64Array): void {
    const { size, start, diagonal, column, pivotRow, pivotColumn } = this.elimination;
    const lu = this.#lu;
    const y = this.#work;
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
    for (let i = 0; i < size; i++) x[pivotColumn[i]] = y[i];
  }

  /** Sign of the determinant, up to the fixed sign of the permutations. */
  pivotSign(): number {
    let sign = 1;
    for (const inverse of this.#inverse) if (inverse < 0) sign = -sign;
    return sign;
  }
}

export class ComplexLu {
  readonly elimination: Elimination;
  readonly #re: Float64Array;
  readonly #im: Float64Array;
  readonly #inverseRe: Float64Array;
  readonly #inverseIm: Float64Array;
  readonly #workRe: Float64Array;
  readonly #workIm: Float64Array;

  constructor(elimination: Elimination) {
    this.elimination = elimination;
    this.#re = new Float64Array(elimination.column.length);
    this.#im = new Float64Array(elimination.column.length);
    this.#inverseRe = new Float64Array(elimination.size);
    this.#inverseIm = new Float64Array(elimination.size);
    this.#workRe = new Float64Array(elimination.size);
    this.#workIm = new Float64Array(elimination.size);
  }

  /** Returns false if a pivot turned out too small: the values need an order of their own. */
  factor(valuesRe: Float64Array, valuesIm: Float64Array): boolean {
    const { size, start, diagonal, column, entryOfSlot, target } = this.elimination;
    const re = this.#re;
    const im = this.#im;
    const inverseRe = this.#inverseRe;
    const inverseIm = this.#inverseIm;
    re.fill(0);
    im.fill(0);
    for (let s = 0; s < entryOfSlot.length; s++) {
      re[entryOfSlot[s]] += valuesRe[s];
      im[entryOfSlot[s]] += valuesIm[s];
    }
    let t = 0;
    let sound = true;
    for (let i = 0; i < size; i++) {
      for (let e = start[i]; e < diagonal[i]; e++) {
        const k = column[e];
        const lRe = re[e] * inverseRe[k] - im[e] * inverseIm[k];
        const lIm = re[e] * inverseIm[k] + im[e] * inverseRe[k];
        re[e] = lRe;
        im[e] = lIm;
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) {
          const to = target[t++];
          re[to] -= lRe * re[u] - lIm * im[u];
          im[to] -= lRe * im[u] + lIm * re[u];
        }
      }
      const pivotRe = re[diagonal[i]];
      const pivotIm = im[diagonal[i]];
      let largest = 0;
      for (let u = diagonal[i] + 1; u < start[i + 1]; u++) {
        largest = Math.max(largest, Math.abs(re[u]) + Math.abs(im[u]));
      }
      const norm = pivotRe * pivotRe + pivotIm * pivotIm;
      if (!(Math.abs(pivotRe) + Math.abs(pivotIm) > LEAST_PIVOT * largest) || norm === 0) sound = false;
      inverseRe[i] = pivotRe / norm;
      inverseIm[i] = -pivotIm / norm;
    }
    return sound;
  }

  /** x ← A⁻¹·b; `b` and `x` may be the same arrays. */
  solve(bRe: Float64Array, bIm: Float64Array, xRe: Float64Array, xIm: Float64Array): void {
    const { size, start, diagonal, column, pivotRow, pivotColumn } = this.elimination;
    const re = this.#re;
    const im = this.#im;
    const yRe = this.#workRe;
    const yIm = this.#workIm;
    for (let i = 0; i < size; i++) {
      let sumRe = bRe[pivotRow[i]];
      let sumIm = bIm[pivotRow[i]];
      for (let e = start[i]; e < diagonal[i]; e++) {
        const k = column[e];
        sumRe -= re[e] * yRe[k] - im[e] * yIm[k];
        sumIm -= re[e] * yIm[k] + im[e] * yRe[k];
      }
      yRe[i] = sumRe;
      yIm[i] = sumIm;
    }
    for (let i = size - 1; i >= 0; i--) {
      let sumRe = yRe[i];
      let sumIm = yIm[i];
      for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
        const k = column[e];
        sumRe -= re[e] * yRe[k] - im[e] * yIm[k];
        sumIm -= re[e] * yIm[k] + im[e] * yRe[k];
      }
      yRe[i] = sumRe * this.#inverseRe[i] - sumIm * this.#inverseIm[i];
      yIm[i] = sumRe * this.#inverseIm[i] + sumIm * this.#inverseRe[i];
    }
    for (let i = 0; i < size; i++) {
      xRe[pivotColumn[i]] = yRe[i];
      xIm[pivotColumn[i]] = yIm[i];
    }
  }
}
