import type { TimePoint } from "./collocation.ts";
import { END, type TimeSystem } from "./time-system.ts";

/** Share of a step at which the filter begins to bite. */
const SHARE = 0.1;
/** Times the low pass is applied to what it holds back. */
const PASSES = 2;
/** A remnant is one if it is so many times what a step may be off. */
const MATTERS = 1;
/** Of what is fast, a further pass holds back more than this share; of what is slow, less. */
const FAST = 0.3;

/**
 * Takes from F what is much faster than the step, where it matters. The Lobatto formula carries such a remnant
 * from step to step undiminished, as it must to leave oscillations alone; physically it has died away within
 * the step. A remnant r shows as r, −r/2, r at start, middle and end of a step, for that is what the formula makes of
 * λ → −∞; a third of F's second difference is all of it, and next to nothing of the slow movement that fast modes follow.
 * With the low pass χ = (1 + δh·∂F/∂q)⁻¹, (1 − χ)² of that is taken away.
 *
 * Of a mode λ, z = hλ, the second difference holds z²/(12 − 6z + z²) of F at the step's start. With δ = 0.1 no mode grows,
 * as tests try from Q = 2.5 to 1000 and to 1000 radians a step. Where what is held back matters too little, or is slow,
 * F is left alone: further passes tell.
 */
export class StiffFilter {
  readonly #system: TimeSystem;
  readonly #rest: Float64Array;
  /** What is to be taken away. */
  readonly #taken: Float64Array;
  readonly #reactive: Int32Array;

  constructor(system: TimeSystem) {
    this.#system = system;
    this.#rest = new Float64Array(system.size);
    this.#taken = new Float64Array(system.size);
    const { reactive } = system.pair.kinds;
    this.#reactive = Int32Array.from([...reactive.keys()].filter((s) => reactive[s] === 1));
  }

  /**
   * Filters `end.f` in place, of the step just taken, for steps of length `h`; the slopes are those that it ended with.
   * Returns whether there was anything to filter.
   */
  apply(start: TimePoint, middle: TimePoint, end: TimePoint, h: number): boolean {
    const { size, hasCharge, pair } = this.#system;
    const rest = this.#rest;
    const perSecond = 1 / (SHARE * h);
    const { coefficients } = pair.memory;
    coefficients.fill(0);
    coefficients[0] = coefficients[3] = perSecond;
    if (!this.#system.factor()) return false;
    for (let k = 0; k < size; k++)
      rest[k] = hasCharge[k] === 1 ? (start.f[k]! - 2 * middle.f[k]! + end.f[k]!) / 3 : 0;
    for (let pass = 0; pass < PASSES; pass++) {
      this.#lowPass();
      this.#holdBack(perSecond);
    }
    this.#lowPass();
    if (!this.#isFast(perSecond)) return false;
    for (let k = 0; k < size; k++) if (hasCharge[k] === 1) end.f[k]! -= this.#taken[k]!;
    return true;
  }

  /** Whether what a third pass has let through matters, and a fourth lets most of it through again. */
  #isFast(perSecond: number): boolean {
    const third = this.#largest();
    if (!(third > MATTERS)) return false;
    this.#taken.set(this.#rest);
    this.#holdBack(perSecond);
    this.#lowPass();
    return this.#largest() > FAST * third;
  }

  /** Solves (C/(δh) + G)·y = rest: what the rest does to the unknowns. */
  #lowPass(): void {
    const { size, pair } = this.#system;
    const { residual } = pair.memory;
    const rest = this.#rest;
    for (let k = 0; k < size; k++) {
      residual[2 * k] = 0;
      residual[2 * k + END] = rest[k]!;
    }
    pair.work.solve();
  }

  /** rest ← (1 − χ)·rest: takes C·y/(δh) away. */
  #holdBack(perSecond: number): void {
    const { dx, c } = this.#system.pair.memory;
    const { row, column } = this.#system.pair.pattern;
    const rest = this.#rest;
    const reactive = this.#reactive;
    for (let e = 0; e < reactive.length; e++) {
      const s = reactive[e]!;
      rest[row[s]!]! -= perSecond * c[2 * s + END]! * dx[2 * column[s]! + END]!;
    }
  }

  /** Largest y, in units of what a step may be off. */
  #largest(): number {
    const { dx, weight } = this.#system.pair.memory;
    let largest = 0;
    for (let k = 0; k < weight.length; k++) {
      const size = Math.abs(dx[2 * k + END]!) * weight[k]!;
      if (size > largest) largest = size;
    }
    return largest;
  }
}
