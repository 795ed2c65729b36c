import { compileReplay } from "./compiled.ts";
import { type ComplexReplay, interpretReplay, measureRows } from "./complex-replay.ts";
import { costOf, type Elimination } from "./elimination.ts";
import { FixedStage } from "./fixed-stage.ts";
import { Solution } from "./solution.ts";
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
  readonly #solution: Solution;
  readonly #varyingSlots: Int32Array;
  #replay: ComplexReplay;
  #replaysLeft: number;

  constructor(elimination: Elimination, compiling: Compiling = "when it pays") {
    this.elimination = elimination;
    this.#stage = new FixedStage(elimination);
    const worth = compiling !== "never" && costOf(elimination).factor <= MOST_COMPILED;
    this.#replaysLeft = worth ? REPLAYS_BEFORE_COMPILING : Number.POSITIVE_INFINITY;
    const { entryOfSlot, isVarying } = elimination;
    this.#varyingSlots = Int32Array.from(entryOfSlot.keys()).filter((s) => isVarying[entryOfSlot[s]] === 1);
    this.#replay = interpretReplay(elimination, compiling !== "never" && !worth);
    this.#solution = new Solution(elimination, this.#stage, this.#replay);
    if (worth && compiling === "at once") this.#compile();
  }

  /** Whether the varying stage runs as machine code. */
  get compiled(): boolean {
    return this.#replay.compiled;
  }

  /** Whether a second frequency comes at little cost: in a large elimination it costs as much as the first. */
  get pairs(): boolean {
    return this.#replay.pairs;
  }

  #compile(): void {
    this.#replaysLeft = Number.POSITIVE_INFINITY;
    const machine = compileReplay(this.elimination);
    if (machine === undefined) return;
    machine.g.set(this.#replay.g);
    machine.c.set(this.#replay.c);
    measureRows(machine, this.elimination);
    this.#replay = machine;
    this.#solution.moveTo(machine);
  }

  /** Loads G by slot, and C by slot where slots vary. Returns false if the order does not suit G. */
  fix(g: Float64Array, c: Float64Array): boolean {
    const sound = this.#stage.load(g);
    const { entryOfSlot } = this.elimination;
    const { g: base, c: reactive } = this.#replay;
    base.set(this.#stage.entries);
    for (const s of this.#varyingSlots) reactive[entryOfSlot[s]] = c[s];
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
    this.#solution.drive(b, bIm);
  }

  /** Solves for the right-hand side driven, at the ω last factored for. */
  solve(): void {
    this.#solution.solve();
  }

  /** Multiply-adds of a `solve` as it is worked out now: what has not been asked for is left out after a while. */
  get solveCost(): number {
    return this.#solution.cost;
  }

  /** Real part of an unknown of the solution: for the first ω, or the second (lane 1). */
  re(unknown: number, lane = 0): number {
    return this.#solution.re(unknown, lane);
  }

  /** Imaginary part of an unknown of the solution. */
  im(unknown: number, lane = 0): number {
    return this.#solution.im(unknown, lane);
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
