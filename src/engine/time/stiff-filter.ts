import type { TimePoint } from "./collocation.ts";
import { StepMatrix } from "./step-matrix.ts";
import type { TimeSystem } from "./time-system.ts";

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
  readonly #matrix: StepMatrix;
  readonly #rest: Float64Array;
  readonly #unused: Float64Array;
  readonly #y: Float64Array;

  constructor(system: TimeSystem) {
    this.#system = system;
    this.#matrix = new StepMatrix(system);
    this.#rest = new Float64Array(system.size);
    this.#unused = new Float64Array(system.size);
    this.#y = new Float64Array(system.size);
  }

  /** Filters `point.f` in place, for steps of length `h`. */
  apply(point: TimePoint, h: number): void {
    const { size, hasCharge } = this.#system;
    const rest = this.#rest;
    const perSecond = 1 / (SHARE * h);
    if (!this.#matrix.factor(point, point, [perSecond, 0, 0, perSecond])) return;
    for (let k = 0; k < size; k++) rest[k] = hasCharge[k] === 1 ? point.f[k]! : 0;
    for (let pass = 0; pass < PASSES; pass++) this.#holdBack(perSecond, point.c);
    for (let k = 0; k < size; k++) if (hasCharge[k] === 1) point.f[k]! -= rest[k]!;
  }

  /** rest ← (1 − χ)·rest: solves (C/(δh) + G)·y = rest/(δh), takes C·y away. */
  #holdBack(perSecond: number, c: Float64Array): void {
    const { size, pattern } = this.#system;
    const rest = this.#rest;
    for (let k = 0; k < size; k++) this.#y[k] = perSecond * rest[k]!;
    this.#unused.fill(0);
    this.#matrix.solve(this.#unused, this.#y);
    const { row, column } = pattern;
    for (let s = 0; s < c.length; s++) {
      if (c[s] !== 0) rest[row[s]!]! -= c[s]! * this.#y[column[s]!]!;
    }
  }
}
