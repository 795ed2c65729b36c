import type { Elimination } from "./elimination.ts";
import { LEAST_PIVOT } from "./fixed-stage.ts";

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
  /**
   * Largest real part among a row's entries, and largest imaginary part per unit of ω, by place: a pivot is
   * small if it is small beside these.
   */
  readonly rowG: Float64Array;
  readonly rowC: Float64Array;
  /** Right-hand side by place, then the solution; `STRIDE` doubles a place, varying rows only. */
  readonly x: Float64Array;
  /** Entries of L and U and 1/pivot as last factored, by entry and by place; varying rows only. */
  readonly lu: Float64Array;
  readonly inverse: Float64Array;
  /** Factors g + jω·c for both lanes; false if a pivot is too small for the order in either. */
  factor(omega: number, second: number): boolean;
  /** Solves for `x` in place. */
  solve(): void;
}

/** Takes note of how large each varying row is, from `g` and `c` as just loaded. */
export function measureRows(
  { g, c, rowG, rowC }: ComplexReplay,
  { size, fixed, firstVarying, start }: Elimination,
): void {
  for (let i = fixed; i < size; i++) {
    let [largestG, largestC] = [0, 0];
    for (let e = firstVarying[i]; e < start[i + 1]; e++) {
      largestG = Math.max(largestG, Math.abs(g[e]));
      largestC = Math.max(largestC, Math.abs(c[e]));
    }
    rowG[i] = largestG;
    rowC[i] = largestC;
  }
}

/** The loops over the index lists. */
export function interpretReplay(elimination: Elimination): ComplexReplay {
  return new InterpretedReplay(elimination);
}

class InterpretedReplay implements ComplexReplay {
  readonly compiled = false;
  readonly g: Float64Array;
  readonly c: Float64Array;
  readonly rowG: Float64Array;
  readonly rowC: Float64Array;
  readonly x: Float64Array;
  readonly lu: Float64Array;
  readonly inverse: Float64Array;
  readonly #elimination: Elimination;
  /** Where each column lies in the row being worked on. */
  readonly #entryAt: Int32Array;
  #lanes = 1;

  constructor(elimination: Elimination) {
    const entries = elimination.column.length;
    this.#elimination = elimination;
    this.g = new Float64Array(entries);
    this.c = new Float64Array(entries);
    this.rowG = new Float64Array(elimination.size);
    this.rowC = new Float64Array(elimination.size);
    this.x = new Float64Array(STRIDE * elimination.size);
    this.lu = new Float64Array(STRIDE * entries);
    this.inverse = new Float64Array(STRIDE * elimination.size);
    this.#entryAt = new Int32Array(elimination.size);
  }

  factor(omega: number, second: number): boolean {
    this.#lanes = second === omega ? 1 : LANES;
    const first = this.#factorLane(omega, 0);
    return (this.#lanes === 1 || this.#factorLane(second, 1)) && first;
  }

  #factorLane(omega: number, lane: number): boolean {
    const { size, fixed, start, firstVarying, diagonal, column } = this.#elimination;
    const { lu, inverse } = this;
    const entryAt = this.#entryAt;
    for (let e = start[fixed]; e < this.g.length; e++) {
      lu[STRIDE * e + lane] = this.g[e];
      lu[STRIDE * e + LANES + lane] = omega * this.c[e];
    }
    let sound = true;
    for (let i = fixed; i < size; i++) {
      for (let e = firstVarying[i]; e < start[i + 1]; e++) entryAt[column[e]] = STRIDE * e + lane;
      for (let e = firstVarying[i]; e < diagonal[i]; e++) {
        const k = column[e];
        const at = STRIDE * e + lane;
        const pivot = STRIDE * k + lane;
        const re = lu[at] * inverse[pivot] - lu[at + LANES] * inverse[pivot + LANES];
        const im = lu[at] * inverse[pivot + LANES] + lu[at + LANES] * inverse[pivot];
        lu[at] = re;
        lu[at + LANES] = im;
        for (let u = diagonal[k] + 1; u < start[k + 1]; u++) {
          const to = entryAt[column[u]];
          const from = STRIDE * u + lane;
          lu[to] -= re * lu[from] - im * lu[from + LANES];
          lu[to + LANES] -= re * lu[from + LANES] + im * lu[from];
        }
      }
      if (!this.#invert(i, lane, omega)) sound = false;
    }
    return sound;
  }

  /** 1/pivot of row i; false if it is too small. */
  #invert(i: number, lane: number, omega: number): boolean {
    const { diagonal } = this.#elimination;
    const { lu, inverse } = this;
    const re = lu[STRIDE * diagonal[i] + lane];
    const im = lu[STRIDE * diagonal[i] + LANES + lane];
    const norm = re * re + im * im;
    inverse[STRIDE * i + lane] = re / norm;
    inverse[STRIDE * i + LANES + lane] = -im / norm;
    const row = this.rowG[i] + omega * this.rowC[i];
    return norm > 0 && Math.abs(re) + Math.abs(im) > LEAST_PIVOT * row;
  }

  solve(): void {
    for (let lane = 0; lane < this.#lanes; lane++) this.#solveLane(lane);
    if (this.#lanes === LANES) return;
    const { x } = this;
    for (let i = this.#elimination.fixed; i < this.#elimination.size; i++) {
      x[STRIDE * i + 1] = x[STRIDE * i];
      x[STRIDE * i + 3] = x[STRIDE * i + 2];
    }
  }

  #solveLane(lane: number): void {
    const { size, fixed, firstVarying, start, diagonal } = this.#elimination;
    const { x, inverse } = this;
    for (let i = fixed; i < size; i++) this.#reduce(i, firstVarying[i], diagonal[i], lane);
    for (let i = size - 1; i >= fixed; i--) {
      this.#reduce(i, diagonal[i] + 1, start[i + 1], lane);
      const at = STRIDE * i + lane;
      const re = x[at] * inverse[at] - x[at + LANES] * inverse[at + LANES];
      x[at + LANES] = x[at] * inverse[at + LANES] + x[at + LANES] * inverse[at];
      x[at] = re;
    }
  }

  /** x_i ← x_i − Σ entry·x over entries `from` … `to` − 1 of row i. */
  #reduce(i: number, from: number, to: number, lane: number): void {
    const { column } = this.#elimination;
    const { lu, x } = this;
    let re = x[STRIDE * i + lane];
    let im = x[STRIDE * i + LANES + lane];
    for (let e = from; e < to; e++) {
      const at = STRIDE * e + lane;
      const k = STRIDE * column[e] + lane;
      re -= lu[at] * x[k] - lu[at + LANES] * x[k + LANES];
      im -= lu[at] * x[k + LANES] + lu[at + LANES] * x[k];
    }
    x[STRIDE * i + lane] = re;
    x[STRIDE * i + LANES + lane] = im;
  }
}
