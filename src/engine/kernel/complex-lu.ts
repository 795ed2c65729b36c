import { compileReplay } from "./compiled.ts";
import { type ComplexReplay, interpretReplay, LANES, measureRows, STRIDE } from "./complex-replay.ts";
import { costOf, type Elimination } from "./elimination.ts";
import { FixedStage } from "./fixed-stage.ts";
import { transposedSolve } from "./transposed.ts";

/** Beyond so many multiply-adds straight-line code grows larger than it is worth. */
const MOST_COMPILED = 5_000;
/** Making machine code takes as long as so many replays by the index lists. */
const REPLAYS_BEFORE_COMPILING = 24;

/** When machine code is made: after some replays, at once, or not at all. */
export type Compiling = "when it pays" | "at once" | "never";

/**
 * Replay of a recorded elimination on G + jω·C: G real and loaded once with `fix`, ω changing from
 * `factor` to `factor`; two values of ω are worked on side by side. Between two calls of `fix` only the rows
 * that C touches are worked on, by straight-line machine code where the platform lets us make some, else
 * by loops over the index lists.
 */
export class ComplexLu {
  readonly elimination: Elimination;
  readonly #stage: FixedStage;
  readonly #placeOf: Int32Array;
  /** Right-hand side after the fixed stage, and the same for the varying rows of both lanes. */
  readonly #forward: Float64Array;
  readonly #forwardIm: Float64Array;
  readonly #forwardLanes: Float64Array;
  /** Solution of the fixed rows, worked out only when one of them is asked for; by lane. */
  readonly #fixedRe: Float64Array;
  readonly #fixedIm: Float64Array;
  readonly #fixedKnown = new Uint8Array(LANES);
  #replay: ComplexReplay;
  #replaysLeft: number;

  constructor(elimination: Elimination, compiling: Compiling = "when it pays") {
    this.elimination = elimination;
    this.#stage = new FixedStage(elimination);
    const { size, fixed, pivotColumn } = elimination;
    const worth = compiling !== "never" && costOf(elimination).factor <= MOST_COMPILED;
    this.#replaysLeft = worth ? REPLAYS_BEFORE_COMPILING : Number.POSITIVE_INFINITY;
    this.#replay = interpretReplay(elimination);
    if (worth && compiling === "at once") this.#compile();
    this.#placeOf = new Int32Array(size);
    for (let i = 0; i < size; i++) this.#placeOf[pivotColumn[i]] = i;
    this.#forward = new Float64Array(size);
    this.#forwardIm = new Float64Array(size);
    this.#forwardLanes = new Float64Array(STRIDE * (size - fixed));
    this.#fixedRe = new Float64Array(LANES * size);
    this.#fixedIm = new Float64Array(LANES * size);
  }

  /** Whether the varying stage runs as machine code. */
  get compiled(): boolean {
    return this.#replay.compiled;
  }

  #compile(): void {
    this.#replaysLeft = Number.POSITIVE_INFINITY;
    const machine = compileReplay(this.elimination);
    if (machine === undefined) return;
    machine.g.set(this.#replay.g);
    machine.c.set(this.#replay.c);
    measureRows(machine, this.elimination);
    this.#replay = machine;
  }

  /** Loads G by slot, and C by slot for the slots that have one. Returns false if the order does not suit G. */
  fix(g: Float64Array, c: Float64Array): boolean {
    const sound = this.#stage.load(g);
    const { entryOfSlot } = this.elimination;
    const { g: base, c: reactive } = this.#replay;
    base.set(this.#stage.entries);
    reactive.fill(0);
    for (let s = 0; s < entryOfSlot.length; s++) reactive[entryOfSlot[s]] += c[s];
    measureRows(this.#replay, this.elimination);
    return sound;
  }

  /**
   * Factors G + jω·C, and with `second` the same for another ω beside it. Returns false if a pivot turned out
   * too small: ω needs an order of its own.
   */
  factor(omega: number, second = omega): boolean {
    if (--this.#replaysLeft < 0) this.#compile();
    return this.#replay.factor(omega, second);
  }

  /** Takes a right-hand side by row, for all frequencies until the next one or the next `fix`. */
  drive(b: Float64Array, bIm?: Float64Array): void {
    const { size, fixed } = this.elimination;
    const [re, im, lanes] = [this.#forward, this.#forwardIm, this.#forwardLanes];
    this.#stage.forward(b, re);
    if (bIm === undefined) im.fill(0);
    else this.#stage.forward(bIm, im);
    for (let i = fixed; i < size; i++) {
      const at = STRIDE * (i - fixed);
      lanes[at] = re[i];
      lanes[at + 1] = re[i];
      lanes[at + LANES] = im[i];
      lanes[at + LANES + 1] = im[i];
    }
  }

  /** Solves for the right-hand side driven, at the ω last factored for. */
  solve(): void {
    this.#replay.x.set(this.#forwardLanes, STRIDE * this.elimination.fixed);
    this.#replay.solve();
    this.#fixedKnown.fill(0);
  }

  /** Real part of an unknown of the solution: for the first ω, or the second (lane 1). */
  re(unknown: number, lane = 0): number {
    const place = this.#placeOf[unknown];
    if (place >= this.elimination.fixed) return this.#replay.x[STRIDE * place + lane];
    this.#finishFixed(lane);
    return this.#fixedRe[lane * this.elimination.size + place];
  }

  /** Imaginary part of an unknown of the solution. */
  im(unknown: number, lane = 0): number {
    const place = this.#placeOf[unknown];
    if (place >= this.elimination.fixed) return this.#replay.x[STRIDE * place + LANES + lane];
    this.#finishFixed(lane);
    return this.#fixedIm[lane * this.elimination.size + place];
  }

  #finishFixed(lane: number): void {
    if (this.#fixedKnown[lane] === 1) return;
    const { size, fixed } = this.elimination;
    const re = this.#fixedRe.subarray(lane * size, (lane + 1) * size);
    const im = this.#fixedIm.subarray(lane * size, (lane + 1) * size);
    const { x } = this.#replay;
    for (let i = fixed; i < size; i++) {
      re[i] = x[STRIDE * i + lane];
      im[i] = x[STRIDE * i + LANES + lane];
    }
    re.set(this.#forward.subarray(0, fixed));
    im.set(this.#forwardIm.subarray(0, fixed));
    this.#stage.backward(re);
    this.#stage.backward(im);
    this.#fixedKnown[lane] = 1;
  }

  /**
   * z ← (Aᵀ)⁻¹·w at the (first) ω last factored for: w by unknown, z by row. One such solution tells what an
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
