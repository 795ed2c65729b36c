import { columnScale } from "../unknowns.ts";
import { StepLu } from "./step-lu.ts";
import type { Slopes, TimeSystem } from "./time-system.ts";

/** Coefficients of one block: what the slopes of q at middle and end get in the rows of middle and end. */
export type Blocks = readonly [middleMiddle: number, middleEnd: number, endMiddle: number, endEnd: number];

/**
 * Factors what Newton needs for the middle and end of a step together: G of each on the diagonal, C of each
 * times the formula's coefficients, per second. The order is kept while it suits the values.
 */
export class StepMatrix {
  readonly #system: TimeSystem;
  readonly #values: Float64Array;
  readonly #columnScale: Float64Array;
  #lu: StepLu | undefined;
  /** Number of the constant values that are loaded. */
  #loaded = -1;
  /** Times the matrix was put in a new order, for statistics. */
  orderings = 0;

  constructor(system: TimeSystem) {
    this.#system = system;
    this.#values = new Float64Array(4 * system.pattern.row.length);
    this.#columnScale = columnScale(system.network.unknowns.list.slice(0, system.size));
  }

  /** Factors with these slopes. False if nothing determines some unknown. */
  factor(middle: Slopes, end: Slopes, [mm, me, em, ee]: Blocks): boolean {
    const values = this.#values;
    for (let s = 0, at = 0; at < values.length; s++, at += 4) {
      values[at] = middle.g[s]! + mm * middle.c[s]!;
      values[at + 1] = me * end.c[s]!;
      values[at + 2] = em * middle.c[s]!;
      values[at + 3] = end.g[s]! + ee * end.c[s]!;
    }
    if (this.#lu !== undefined && this.#fixed(this.#lu) && this.#lu.factor(values)) return true;
    return this.#reorder(end, ee);
  }

  #fixed(lu: StepLu): boolean {
    const { constant, turns } = this.#system;
    if (this.#loaded === turns) return true;
    this.#loaded = turns;
    return lu.fix(constant);
  }

  #reorder({ g, c }: Slopes, perSecond: number): boolean {
    this.orderings++;
    const { pattern, varying } = this.#system;
    const values = g.map((conductance, s) => conductance + perSecond * c[s]!);
    this.#lu = StepLu.make(pattern, varying, values, this.#columnScale);
    if (this.#lu === undefined) return false;
    this.#loaded = -1;
    this.#fixed(this.#lu);
    return this.#lu.factor(this.#values);
  }

  /** Solves for right-hand sides by row, for middle and end; the solutions overwrite them, by unknown. */
  solve(middle: Float64Array, end: Float64Array): void {
    this.#lu!.solve(middle, end);
  }
}
