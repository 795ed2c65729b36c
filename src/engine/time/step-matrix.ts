import { columnScale } from "../unknowns.ts";
import { StepLu } from "./step-lu.ts";
import type { TimeSystem } from "./time-system.ts";

/** Factors G + (re + j·im)·C for the steps; the order is kept while it suits the values. */
export class StepMatrix {
  readonly #system: TimeSystem;
  readonly #real: Float64Array;
  readonly #imaginary: Float64Array;
  readonly #columnScale: Float64Array;
  #lu: StepLu | undefined;
  /** Number of the constant values that are loaded. */
  #loaded = -1;
  /** Times the matrix was put in a new order, for statistics. */
  orderings = 0;

  constructor(system: TimeSystem) {
    this.#system = system;
    this.#real = new Float64Array(system.g.length);
    this.#imaginary = new Float64Array(system.g.length);
    this.#columnScale = columnScale(system.network.unknowns.list.slice(0, system.size));
  }

  /** Factors with the slopes last linearised, per second. False if nothing determines some unknown. */
  factor(re: number, im: number): boolean {
    const { g, c } = this.#system;
    const [real, imaginary] = [this.#real, this.#imaginary];
    for (let s = 0; s < g.length; s++) {
      real[s] = g[s]! + re * c[s]!;
      imaginary[s] = im * c[s]!;
    }
    if (this.#lu !== undefined && this.#fixed(this.#lu) && this.#lu.factor(real, imaginary)) return true;
    return this.#reorder();
  }

  #fixed(lu: StepLu): boolean {
    const { constant, turns } = this.#system;
    if (this.#loaded === turns) return true;
    this.#loaded = turns;
    return lu.fix(constant);
  }

  #reorder(): boolean {
    this.orderings++;
    const { pattern, varying } = this.#system;
    this.#lu = StepLu.make(pattern, varying, this.#real, this.#imaginary, this.#columnScale);
    this.#loaded = -1;
    if (this.#lu === undefined) return false;
    this.#fixed(this.#lu);
    this.#lu.factor(this.#real, this.#imaginary);
    return true;
  }

  /** Solves for a complex right-hand side by row; the solution overwrites it, by unknown. */
  solve(re: Float64Array, im: Float64Array): void {
    this.#lu!.solve(re, im);
  }
}
