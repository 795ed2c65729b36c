import type { Elimination } from "./elimination.ts";
import { type LoopMachine, loopMachine } from "./loop-machine.ts";
import type { Part } from "./part.ts";

/** Two frequencies are worked on side by side, each number beside its twin. */
export const LANES = 2;
/** Doubles of one complex number of both lanes: re, re, im, im. */
export const STRIDE = 2 * LANES;

/** The varying stage on complex values, for one or two values of ω at a time. */
export interface ComplexReplay {
  readonly compiled: boolean;
  /** Whether two frequencies at a time are worth while. */
  readonly pairs: boolean;
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
  { size, fixed, firstVarying, start, leastPivot }: Elimination,
): void {
  for (let i = fixed; i < size; i++) {
    let sumG = 0;
    let sumC = 0;
    for (let e = firstVarying[i]; e < start[i + 1]; e++) {
      sumG += Math.abs(g[e]);
      sumC += Math.abs(c[e]);
    }
    leastG[i] = leastPivot * sumG + LEAST_OF_ALL;
    leastC[i] = leastPivot * sumC;
  }
}

/** The loops over the index lists; those as machine code, too, if it is `large` and the platform lets us. */
export function interpretReplay(elimination: Elimination, large = false): ComplexReplay {
  return new InterpretedReplay(elimination, large ? loopMachine(elimination) : undefined);
}

/** Real and imaginary part of one number. */
const PARTS = 2;

/** One frequency's values, each number's two parts side by side: the loops run over large networks too. */
class Lane {
  readonly lu: Float64Array;
  readonly inverse: Float64Array;
  readonly #elimination: Elimination;
  readonly #machine: LoopMachine | undefined;
  /** The row being worked on, by column. */
  readonly #row: Float64Array;

  constructor(elimination: Elimination, machine?: LoopMachine) {
    this.#elimination = elimination;
    this.#machine = machine;
    this.lu = machine?.lu ?? new Float64Array(PARTS * elimination.column.length);
    this.inverse = machine?.inverse ?? new Float64Array(PARTS * elimination.size);
    this.#row = new Float64Array(PARTS * elimination.size);
  }

  factor(values: ComplexReplay, omega: number): boolean {
    if (this.#machine !== undefined) return this.#machine.factor(omega);
    const { size, fixed } = this.#elimination;
    let sound = true;
    for (let i = fixed; i < size; i++) {
      this.#load(values, omega, i);
      this.#reduce(i);
      if (!this.#finish(i, values.leastG[i] + omega * values.leastC[i])) sound = false;
    }
    return sound;
  }

  #load({ g, c }: ComplexReplay, omega: number, i: number): void {
    const { start, firstVarying, column } = this.#elimination;
    const row = this.#row;
    for (let e = firstVarying[i]; e < start[i + 1]; e++) {
      const at = PARTS * column[e];
      row[at] = g[e];
      row[at + 1] = omega * c[e];
    }
  }

  /** Takes the multiples of the rows above from row i. */
  #reduce(i: number): void {
    const { start, firstVarying, diagonal, column } = this.#elimination;
    const { lu, inverse } = this;
    const row = this.#row;
    const end = diagonal[i];
    for (let e = firstVarying[i]; e < end; e++) {
      const k = column[e];
      const [re, im] = [row[PARTS * k], row[PARTS * k + 1]];
      const [inverseRe, inverseIm] = [inverse[PARTS * k], inverse[PARTS * k + 1]];
      const lRe = re * inverseRe - im * inverseIm;
      const lIm = re * inverseIm + im * inverseRe;
      lu[PARTS * e] = lRe;
      lu[PARTS * e + 1] = lIm;
      const last = start[k + 1];
      for (let u = diagonal[k] + 1; u < last; u++) {
        const to = PARTS * column[u];
        const uRe = lu[PARTS * u];
        const uIm = lu[PARTS * u + 1];
        row[to] -= lRe * uRe - lIm * uIm;
        row[to + 1] -= lRe * uIm + lIm * uRe;
      }
    }
  }

  /** Keeps what is left of row i as its row of U, and 1/pivot; false if the pivot is too small. */
  #finish(i: number, least: number): boolean {
    const { start, diagonal, column } = this.#elimination;
    const { lu, inverse } = this;
    const row = this.#row;
    for (let e = diagonal[i]; e < start[i + 1]; e++) {
      const at = PARTS * column[e];
      lu[PARTS * e] = row[at];
      lu[PARTS * e + 1] = row[at + 1];
    }
    const re = row[PARTS * i];
    const im = row[PARTS * i + 1];
    const norm = re * re + im * im;
    inverse[PARTS * i] = re / norm;
    inverse[PARTS * i + 1] = -im / norm;
    return Math.abs(re) + Math.abs(im) > least;
  }

  /** Solves in place for one lane of `x`. */
  solve(x: Float64Array, lane: number): void {
    const { size, fixed, firstVarying, start, diagonal } = this.#elimination;
    const { inverse } = this;
    for (let i = fixed; i < size; i++) this.#substitute(x, i, firstVarying[i], diagonal[i], lane);
    for (let i = size - 1; i >= fixed; i--) {
      this.#substitute(x, i, diagonal[i] + 1, start[i + 1], lane);
      const at = STRIDE * i + lane;
      const [inverseRe, inverseIm] = [inverse[PARTS * i], inverse[PARTS * i + 1]];
      const re = x[at] * inverseRe - x[at + LANES] * inverseIm;
      x[at + LANES] = x[at] * inverseIm + x[at + LANES] * inverseRe;
      x[at] = re;
    }
  }

  /** x_i ← x_i − Σ entry·x over entries `from` … `to` − 1 of row i. */
  #substitute(x: Float64Array, i: number, from: number, to: number, lane: number): void {
    const { column } = this.#elimination;
    const { lu } = this;
    let sumRe = x[STRIDE * i + lane];
    let sumIm = x[STRIDE * i + LANES + lane];
    for (let e = from; e < to; e++) {
      const k = STRIDE * column[e] + lane;
      const [re, im] = [lu[PARTS * e], lu[PARTS * e + 1]];
      sumRe -= re * x[k] - im * x[k + LANES];
      sumIm -= re * x[k + LANES] + im * x[k];
    }
    x[STRIDE * i + lane] = sumRe;
    x[STRIDE * i + LANES + lane] = sumIm;
  }
}

/** Numbers in the first lane of an array that has `STRIDE` doubles for each. */
function inFirstLane(numbers: Float64Array): Float64Array {
  const both = new Float64Array((STRIDE / PARTS) * numbers.length);
  for (let k = 0; k < numbers.length / PARTS; k++) {
    both[STRIDE * k] = numbers[PARTS * k];
    both[STRIDE * k + LANES] = numbers[PARTS * k + 1];
  }
  return both;
}

class InterpretedReplay implements ComplexReplay {
  readonly compiled = false;
  readonly pairs: boolean;
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

  constructor(elimination: Elimination, machine: LoopMachine | undefined) {
    const entries = elimination.column.length;
    this.#elimination = elimination;
    this.pairs = machine === undefined;
    this.g = machine?.g ?? new Float64Array(entries);
    this.c = machine?.c ?? new Float64Array(entries);
    this.leastG = machine?.leastG ?? new Float64Array(elimination.size);
    this.leastC = machine?.leastC ?? new Float64Array(elimination.size);
    this.b = new Float64Array(STRIDE * elimination.size);
    this.x = new Float64Array(STRIDE * elimination.size);
    this.#first = new Lane(elimination, machine);
  }

  get lu(): Float64Array {
    return inFirstLane(this.#first.lu);
  }

  get inverse(): Float64Array {
    return inFirstLane(this.#first.inverse);
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
