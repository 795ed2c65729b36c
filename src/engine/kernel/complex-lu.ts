import { compileReplay } from "./compiled.ts";
import { type ComplexReplay, interpretReplay } from "./complex-replay.ts";
import { costOf, type Elimination } from "./elimination.ts";
import { FixedStage } from "./fixed-stage.ts";
import { transposedSolve } from "./transposed.ts";

/** Beyond so many multiply-adds straight-line code grows larger than it is worth. */
const MOST_COMPILED = 5_000;

/**
 * Replay of a recorded elimination on G + jω·C: G real and loaded once with `fix`, ω changing from
 * `factor` to `factor`. Between two calls of `fix` only the rows that C touches are worked on, by
 * straight-line machine code where the platform lets us make some, else by loops over the index lists.
 */
export class ComplexLu {
  readonly elimination: Elimination;
  readonly #stage: FixedStage;
  readonly #replay: ComplexReplay;
  readonly #placeOf: Int32Array;
  /** Right-hand side after the fixed stage, and the same as pairs for the varying rows. */
  readonly #forward: Float64Array;
  readonly #forwardIm: Float64Array;
  readonly #forwardPairs: Float64Array;
  /** Solution of the fixed rows, worked out only when one of them is asked for. */
  readonly #fixedRe: Float64Array;
  readonly #fixedIm: Float64Array;
  #fixedKnown = false;

  constructor(elimination: Elimination, compiled = true) {
    this.elimination = elimination;
    this.#stage = new FixedStage(elimination);
    const small = costOf(elimination).factor <= MOST_COMPILED;
    const machine = compiled && small ? compileReplay(elimination) : undefined;
    this.#replay = machine ?? interpretReplay(elimination);
    const { size, fixed, pivotColumn } = elimination;
    this.#placeOf = new Int32Array(size);
    for (let i = 0; i < size; i++) this.#placeOf[pivotColumn[i]] = i;
    this.#forward = new Float64Array(size);
    this.#forwardIm = new Float64Array(size);
    this.#forwardPairs = new Float64Array(2 * (size - fixed));
    this.#fixedRe = new Float64Array(size);
    this.#fixedIm = new Float64Array(size);
  }

  /** Whether the varying stage runs as machine code. */
  get compiled(): boolean {
    return this.#replay.compiled;
  }

  /** Loads G by slot, and C by slot for the slots that have one. Returns false if the order does not suit G. */
  fix(g: Float64Array, c: Float64Array): boolean {
    const sound = this.#stage.load(g);
    const { entryOfSlot } = this.elimination;
    const { g: base, c: reactive } = this.#replay;
    base.set(this.#stage.entries);
    reactive.fill(0);
    for (let s = 0; s < entryOfSlot.length; s++) reactive[entryOfSlot[s]] += c[s];
    return sound;
  }

  /** Factors G + jω·C. Returns false if a pivot turned out too small: ω needs an order of its own. */
  factor(omega: number): boolean {
    return this.#replay.factor(omega);
  }

  /** Takes a right-hand side by row, for all frequencies until the next one or the next `fix`. */
  drive(b: Float64Array, bIm?: Float64Array): void {
    const { size, fixed } = this.elimination;
    const [re, im, pairs] = [this.#forward, this.#forwardIm, this.#forwardPairs];
    this.#stage.forward(b, re);
    if (bIm === undefined) im.fill(0);
    else this.#stage.forward(bIm, im);
    for (let i = fixed; i < size; i++) {
      pairs[2 * (i - fixed)] = re[i];
      pairs[2 * (i - fixed) + 1] = im[i];
    }
  }

  /** Solves for the right-hand side driven, at the ω last factored for. */
  solve(): void {
    this.#replay.x.set(this.#forwardPairs, 2 * this.elimination.fixed);
    this.#replay.solve();
    this.#fixedKnown = false;
  }

  /** Real part of an unknown of the solution. */
  re(unknown: number): number {
    const place = this.#placeOf[unknown];
    if (place >= this.elimination.fixed) return this.#replay.x[2 * place];
    this.#finishFixed();
    return this.#fixedRe[place];
  }

  /** Imaginary part of an unknown of the solution. */
  im(unknown: number): number {
    const place = this.#placeOf[unknown];
    if (place >= this.elimination.fixed) return this.#replay.x[2 * place + 1];
    this.#finishFixed();
    return this.#fixedIm[place];
  }

  #finishFixed(): void {
    if (this.#fixedKnown) return;
    const { size, fixed } = this.elimination;
    const { x } = this.#replay;
    for (let i = fixed; i < size; i++) {
      this.#fixedRe[i] = x[2 * i];
      this.#fixedIm[i] = x[2 * i + 1];
    }
    this.#fixedRe.set(this.#forward.subarray(0, fixed));
    this.#fixedIm.set(this.#forwardIm.subarray(0, fixed));
    this.#stage.backward(this.#fixedRe);
    this.#stage.backward(this.#fixedIm);
    this.#fixedKnown = true;
  }

  /**
   * z ← (Aᵀ)⁻¹·w at the ω last factored for: w by unknown, z by row. One such solution tells what an
   * injection at every row gives in the one combination w of the unknowns.
   */
  solveTransposed(wRe: Float64Array, wIm: Float64Array, zRe: Float64Array, zIm: Float64Array): void {
    const { size, pivotRow, pivotColumn } = this.elimination;
    const re = Float64Array.from(pivotColumn, (unknown) => wRe[unknown]);
    const im = Float64Array.from(pivotColumn, (unknown) => wIm[unknown]);
    transposedSolve(this.elimination, this.#stage, this.#replay, re, im);
    for (let i = 0; i < size; i++) {
      zRe[pivotRow[i]] = re[i];
      zIm[pivotRow[i]] = im[i];
    }
  }
}
