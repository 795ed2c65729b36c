import type { Elimination } from "./elimination.ts";
import { LEAST_PIVOT } from "./fixed-stage.ts";
import type { Part } from "./part.ts";

/** Two frequencies are worked on side by side, each number beside its twin. */
export const LANES = 2;
/** Doubles of one complex number of both lanes: re, re, im, im. */
export const STRIDE = 2 * LANES;

/** The varying stage on complex values, for one or two values of ω at a time. */
export interface ComplexReplay {
  readonly compiled: boolean;
  /** Real part of each entry, as the fixed stage left it. */
  readonly g: Float64Array;
  /** Imaginary part of each entry per unit of ω. */
  readonly c: Float64Array;
  /** By place, what a pivot must be greater than: so much, and so much more per unit of ω. */
  readonly leastG: Float64Array;
  readonly leastC: Float64Array;
  /** Right-hand side and solution by place; `STRIDE` doubles a place, varying rows only. */
  readonly b: Float64Array;
  readonly x: Float64Array;
  /** Entries of L and U and 1/pivot as last factored, by entry and by place; varying rows, first lane. */
  readonly lu: Float64Array;
  readonly inverse: Float64Array;
  /** Factors g + jω·c for both lanes; false if a pivot is too small for the order in either. */
  factor(omega: number, second: number): boolean;
  /** Solves for `x`. */
  solve(): void;
  /** A function that solves for a part of `x` only, if there is a faster way to that. */
  solverOf?(part: Part): () => void;
}

/** A pivot smaller than this would have an inverse without an end. */
const LEAST_OF_ALL = 1e-150;

/**
 * Takes note of how large each varying row is, from `g` and `c` as just loaded: a pivot is too small if it is
 * small beside the sum of its row's real and imaginary parts.
 */
export function measureRows(
  { g, c, leastG, leastC }: ComplexReplay,
  { size, fixed, firstVarying, start }: Elimination,
): void {
  for (let i = fixed; i < size; i++) {
    let sumG = 0;
    let sumC = 0;
    for (let e = firstVarying[i]; e < start[i + 1]; e++) {
      sumG += Math.abs(g[e]);
      sumC += Math.abs(c[e]);
    }
    leastG[i] = LEAST_PIVOT * sumG + LEAST_OF_ALL;
    leastC[i] = LEAST_PIVOT * sumC;
  }
}

/** The loops over the index lists. */
export function interpretReplay(elimination: Elimination): ComplexReplay {
  return new InterpretedReplay(elimination);
}

/** One frequency's values, real and imaginary parts apart: the loops run over large networks too. */
class Lane {
  readonly re: Float64Array;
  readonly im: Float64Array;
  readonly inverseRe: Float64Array;
  readonly inverseIm: Float64Array;
  readonly #elimination: Elimination;
  /** Where each column lies in the row being worked on. */
  readonly #entryAt: Int32Array;

  constructor(elimination: Elimination) {
    const entries = elimination.column.length;
    this.#elimination = elimination;
    this.re = new Float64Array(entries);
    this.im = new Float64Array(entries);
    this.inverseRe = new Float64Array(elimination.size);
    this.inverseIm = new Float64Array(elimination.size);
    this.#entryAt = new Int32Array(elimination.size);
  }

  factor({ g, c, leastG, leastC }: ComplexReplay, omega: number): boolean {
    const { size, fixed, start, firstVarying, diagonal, column } = this.#elimination;
    const { re, im, inverseRe, inverseIm } = this;
    const entryAt = this.#entryAt;
    for (let e = start[fixed]; e < g.length; e++) {
      re[e] = g[e];
      im[e] = omega * c[e];
    }
    let sound = true;
    for (let i = fixed; i < size; i++) {
      for (let e = firstVarying[i]; e < start[i + 1]; e++) entryAt[column[e]] = e;
      for (let e = firstVarying[i]; e < diagonal[i]; e++) {
        const k = column[e];
        const lRe = re[e] * inverseRe[k] - im[e] * inverseIm[k];
        const lIm = re[e] * inverseIm[k] + im[e] * inverseRe[k];
        re[e] = lRe;
        im[e] = lIm;
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) {
          const to = entryAt[column[u]];
          re[to] -= lRe * re[u] - lIm * im[u];
          im[to] -= lRe * im[u] + lIm * re[u];
        }
      }
      const pivotRe = re[diagonal[i]];
      const pivotIm = im[diagonal[i]];
      const norm = pivotRe * pivotRe + pivotIm * pivotIm;
      inverseRe[i] = pivotRe / norm;
      inverseIm[i] = -pivotIm / norm;
      const least = leastG[i] + omega * leastC[i];
      if (!(Math.abs(pivotRe) + Math.abs(pivotIm) > least)) sound = false;
    }
    return sound;
  }

  /** Solves in place for one lane of `x`. */
  solve(x: Float64Array, lane: number): void {
    const { size, fixed, firstVarying, start, diagonal } = this.#elimination;
    const { inverseRe, inverseIm } = this;
    for (let i = fixed; i < size; i++) this.#reduce(x, i, firstVarying[i], diagonal[i], lane);
    for (let i = size - 1; i >= fixed; i--) {
      this.#reduce(x, i, diagonal[i] + 1, start[i + 1], lane);
      const at = STRIDE * i + lane;
      const re = x[at] * inverseRe[i] - x[at + LANES] * inverseIm[i];
      x[at + LANES] = x[at] * inverseIm[i] + x[at + LANES] * inverseRe[i];
      x[at] = re;
    }
  }

  /** x_i ← x_i − Σ entry·x over entries `from` … `to` − 1 of row i. */
  #reduce(x: Float64Array, i: number, from: number, to: number, lane: number): void {
    const { column } = this.#elimination;
    const { re, im } = this;
    let sumRe = x[STRIDE * i + lane];
    let sumIm = x[STRIDE * i + LANES + lane];
    for (let e = from; e < to; e++) {
      const k = STRIDE * column[e] + lane;
      sumRe -= re[e] * x[k] - im[e] * x[k + LANES];
      sumIm -= re[e] * x[k + LANES] + im[e] * x[k];
    }
    x[STRIDE * i + lane] = sumRe;
    x[STRIDE * i + LANES + lane] = sumIm;
  }
}

/** Both halves of complex numbers in the first lane of an array that has `STRIDE` doubles for each. */
function interleaved(re: Float64Array, im: Float64Array): Float64Array {
  const both = new Float64Array(STRIDE * re.length);
  for (let k = 0; k < re.length; k++) {
    both[STRIDE * k] = re[k];
    both[STRIDE * k + LANES] = im[k];
  }
  return both;
}

class InterpretedReplay implements ComplexReplay {
  readonly compiled = false;
  readonly g: Float64Array;
  readonly c: Float64Array;
  readonly leastG: Float64Array;
  readonly leastC: Float64Array;
  readonly b: Float64Array;
  readonly x: Float64Array;
  readonly #elimination: Elimination;
  readonly #first: Lane;
  /** Made when two frequencies are first asked for. */
  #second: Lane | undefined;
  #lanes = 1;

  constructor(elimination: Elimination) {
    const entries = elimination.column.length;
    this.#elimination = elimination;
    this.g = new Float64Array(entries);
    this.c = new Float64Array(entries);
    this.leastG = new Float64Array(elimination.size);
    this.leastC = new Float64Array(elimination.size);
    this.b = new Float64Array(STRIDE * elimination.size);
    this.x = new Float64Array(STRIDE * elimination.size);
    this.#first = new Lane(elimination);
  }

  get lu(): Float64Array {
    return interleaved(this.#first.re, this.#first.im);
  }

  get inverse(): Float64Array {
    return interleaved(this.#first.inverseRe, this.#first.inverseIm);
  }

  factor(omega: number, second: number): boolean {
    const sound = this.#first.factor(this, omega);
    this.#lanes = second === omega ? 1 : LANES;
    if (this.#lanes === 1) return sound;
    this.#second ??= new Lane(this.#elimination);
    return this.#second.factor(this, second) && sound;
  }

  solve(): void {
    const { x } = this;
    x.set(this.b);
    this.#first.solve(x, 0);
    if (this.#lanes === LANES) {
      this.#second?.solve(x, 1);
      return;
    }
    for (let i = this.#elimination.fixed; i < this.#elimination.size; i++) {
      x[STRIDE * i + 1] = x[STRIDE * i];
      x[STRIDE * i + 3] = x[STRIDE * i + 2];
    }
  }
}
