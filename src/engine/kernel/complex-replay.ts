import type { Elimination } from "./elimination.ts";
import { LEAST_PIVOT } from "./fixed-stage.ts";

/**
 * The varying stage on complex values. Entries, pivots and solution lie as pairs (re, im) in arrays that
 * the caller fills and reads.
 */
export interface ComplexReplay {
  readonly compiled: boolean;
  /** Real part of each entry, as the fixed stage left it. */
  readonly g: Float64Array;
  /** Imaginary part of each entry per unit of ω. */
  readonly c: Float64Array;
  /** Right-hand side by place, then the solution: pairs; varying rows only. */
  readonly x: Float64Array;
  /** Entries of L and U and 1/pivot as last factored, as pairs by entry and by place; varying rows only. */
  readonly lu: Float64Array;
  readonly inverse: Float64Array;
  /** Factors g + jω·c; false if a pivot is too small for the order. */
  factor(omega: number): boolean;
  /** Solves for `x` in place. */
  solve(): void;
}

/** The loops over the index lists. */
export function interpretReplay(elimination: Elimination): ComplexReplay {
  return new InterpretedReplay(elimination);
}

class InterpretedReplay implements ComplexReplay {
  readonly compiled = false;
  readonly g: Float64Array;
  readonly c: Float64Array;
  readonly x: Float64Array;
  readonly #elimination: Elimination;
  readonly lu: Float64Array;
  readonly inverse: Float64Array;
  /** Where each column lies in the row being worked on. */
  readonly #entryAt: Int32Array;

  constructor(elimination: Elimination) {
    const entries = elimination.column.length;
    this.#elimination = elimination;
    this.g = new Float64Array(entries);
    this.c = new Float64Array(entries);
    this.x = new Float64Array(2 * elimination.size);
    this.lu = new Float64Array(2 * entries);
    this.inverse = new Float64Array(2 * elimination.size);
    this.#entryAt = new Int32Array(elimination.size);
  }

  factor(omega: number): boolean {
    const { size, fixed, start, firstVarying, diagonal, column } = this.#elimination;
    const entryAt = this.#entryAt;
    const { lu } = this;
    const { inverse } = this;
    for (let e = start[fixed]; e < this.g.length; e++) {
      lu[2 * e] = this.g[e];
      lu[2 * e + 1] = omega * this.c[e];
    }
    let sound = true;
    for (let i = fixed; i < size; i++) {
      for (let e = firstVarying[i]; e < start[i + 1]; e++) entryAt[column[e]] = 2 * e;
      for (let e = firstVarying[i]; e < diagonal[i]; e++) {
        const k = column[e];
        const re = lu[2 * e] * inverse[2 * k] - lu[2 * e + 1] * inverse[2 * k + 1];
        const im = lu[2 * e] * inverse[2 * k + 1] + lu[2 * e + 1] * inverse[2 * k];
        lu[2 * e] = re;
        lu[2 * e + 1] = im;
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) {
          const to = entryAt[column[u]];
          lu[to] -= re * lu[2 * u] - im * lu[2 * u + 1];
          lu[to + 1] -= re * lu[2 * u + 1] + im * lu[2 * u];
        }
      }
      const pivotRe = lu[2 * diagonal[i]];
      const pivotIm = lu[2 * diagonal[i] + 1];
      let largest = 0;
      for (let u = diagonal[i] + 1; u < start[i + 1]; u++) {
        largest = Math.max(largest, Math.abs(lu[2 * u]) + Math.abs(lu[2 * u + 1]));
      }
      const norm = pivotRe * pivotRe + pivotIm * pivotIm;
      if (!(Math.abs(pivotRe) + Math.abs(pivotIm) > LEAST_PIVOT * largest) || norm === 0) sound = false;
      inverse[2 * i] = pivotRe / norm;
      inverse[2 * i + 1] = -pivotIm / norm;
    }
    return sound;
  }

  solve(): void {
    const { size, fixed, start, firstVarying, diagonal, column } = this.#elimination;
    const { lu } = this;
    const { inverse } = this;
    const { x } = this;
    for (let i = fixed; i < size; i++) {
      let re = x[2 * i];
      let im = x[2 * i + 1];
      for (let e = firstVarying[i]; e < diagonal[i]; e++) {
        const k = column[e];
        re -= lu[2 * e] * x[2 * k] - lu[2 * e + 1] * x[2 * k + 1];
        im -= lu[2 * e] * x[2 * k + 1] + lu[2 * e + 1] * x[2 * k];
      }
      x[2 * i] = re;
      x[2 * i + 1] = im;
    }
    for (let i = size - 1; i >= fixed; i--) {
      let re = x[2 * i];
      let im = x[2 * i + 1];
      for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
        const k = column[e];
        re -= lu[2 * e] * x[2 * k] - lu[2 * e + 1] * x[2 * k + 1];
        im -= lu[2 * e] * x[2 * k + 1] + lu[2 * e + 1] * x[2 * k];
      }
      x[2 * i] = re * inverse[2 * i] - im * inverse[2 * i + 1];
      x[2 * i + 1] = re * inverse[2 * i + 1] + im * inverse[2 * i];
    }
  }
}
