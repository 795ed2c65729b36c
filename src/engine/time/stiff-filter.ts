import type { TimePoint } from "./collocation.ts";
import { END, type TimeSystem } from "./time-system.ts";

/** Share of a step at which the filter begins to bite; what is slower than the step it leaves alone. */
const SHARE = 0.05;
/** Times the low pass is applied to what it holds back: an error of (SHARE·ωh)⁴ for an oscillation. */
const PASSES = 4;

/**
 * Takes from F what is much faster than the step. The Lobatto formula carries such a remnant from step to
 * step undiminished, as it must to leave oscillations alone; physically it has died away within the step.
 * With the low pass χ = (1 + δh·∂F/∂q)⁻¹, F loses (1 − χ)⁴·F: all of what is fast, nothing of what is slow.
 */
export class StiffFilter {
  readonly #system: TimeSystem;
  readonly #rest: Float64Array;
  readonly #reactive: Int32Array;

  constructor(system: TimeSystem) {
    this.#system = system;
    this.#rest = new Float64Array(system.size);
    const { reactive } = system.pair.kinds;
    this.#reactive = Int32Array.from([...reactive.keys()].filter((s) => reactive[s] === 1));
  }

  /** Filters `point.f` in place, for steps of length `h`; the slopes are those that the last step ended with. */
  apply(point: TimePoint, h: number): void {
    const { size, hasCharge, pair } = this.#system;
    const rest = this.#rest;
    const perSecond = 1 / (SHARE * h);
    const { coefficients } = pair.memory;
    coefficients.fill(0);
    coefficients[0] = coefficients[3] = perSecond;
    if (!pair.factor()) return;
    for (let k = 0; k < size; k++) rest[k] = hasCharge[k] === 1 ? point.f[k]! : 0;
    for (let pass = 0; pass < PASSES; pass++) this.#holdBack(perSecond);
    for (let k = 0; k < size; k++) if (hasCharge[k] === 1) point.f[k]! -= rest[k]!;
  }

  /** rest ← (1 − χ)·rest: solves (C/(δh) + G)·y = rest/(δh), takes C·y away. */
  #holdBack(perSecond: number): void {
    const { size, pair } = this.#system;
    const { residual, dx, c } = pair.memory;
    const rest = this.#rest;
    for (let k = 0; k < size; k++) {
      residual[2 * k] = 0;
      residual[2 * k + END] = perSecond * rest[k]!;
    }
    pair.work.solve();
    const { row, column } = pair.pattern;
    for (const s of this.#reactive) rest[row[s]!]! -= c[2 * s + END]! * dx[2 * column[s]! + END]!;
  }
}
