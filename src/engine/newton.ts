import type { Continuation, DcSystem } from "./dc-system.ts";

/** How Newton's iteration ended. */
export type NewtonEnd = "converged" | "too many steps" | "not finite" | "undetermined";

export interface NewtonOutcome {
  readonly end: NewtonEnd;
  readonly steps: number;
  /** The unknown that moved most in the last step, or one that nothing determines. */
  readonly hangsAt: number;
}

/**
 * After a step this small (V, mA or K) the error left is its square over kT/q, below rounding: the
 * iteration is quadratic here.
 */
const SETTLED = 1e-8;
/** A step this small that no longer shrinks is rounding in a badly conditioned corner of the circuit. */
const NEAR = 1e-6;

/** Volts, milliamperes and kelvins weigh alike when changes are compared. */
const AMPERE_WEIGHT = 1e3;

interface Change {
  readonly largest: number;
  readonly at: number;
}

function subtract(state: Float64Array, dx: Float64Array, weight: Float64Array): Change {
  let largest = 0;
  let at = 0;
  for (let k = 0; k < dx.length; k++) {
    state[k]! -= dx[k]!;
    const change = Math.abs(dx[k]!) * weight[k]!;
    if (!(change <= largest)) {
      largest = change;
      at = k;
    }
  }
  return { largest, at };
}

/** Newton's iteration on one system; its arrays are kept from run to run. */
export class Newton {
  readonly system: DcSystem;
  /** Steps taken since the start, for statistics. */
  steps = 0;
  readonly #dx: Float64Array;
  readonly #weight: Float64Array;

  constructor(system: DcSystem) {
    this.system = system;
    const { list, size } = system.network.unknowns;
    this.#dx = new Float64Array(size);
    this.#weight = Float64Array.from(list, ({ kind }) => (kind === "branch" ? AMPERE_WEIGHT : 1));
  }

  /** Moves `state` to a solution of F(x) = 0 in place; `settled` is the last step's size (V, mA or K). */
  solve(
    state: Float64Array,
    continuation: Continuation,
    mostSteps: number,
    settled = SETTLED,
  ): NewtonOutcome {
    this.system.remember(state);
    let last = Number.POSITIVE_INFINITY;
    let at = 0;
    for (let step = 1; step <= mostSteps; step++) {
      const change = this.#step(state, continuation);
      if (typeof change === "number") return { end: "undetermined", steps: step, hangsAt: change };
      const { largest } = change;
      at = change.at;
      if (!Number.isFinite(largest)) return { end: "not finite", steps: step, hangsAt: at };
      const stalled = largest < NEAR && largest > last / 2;
      if (this.system.whole && (largest < settled || stalled))
        return { end: "converged", steps: step, hangsAt: at };
      last = largest;
    }
    return { end: "too many steps", steps: mostSteps, hangsAt: at };
  }

  #step(state: Float64Array, continuation: Continuation): Change | number {
    this.steps++;
    this.system.evaluate(state, continuation, true);
    const undetermined = this.system.step(this.#dx);
    if (undetermined !== undefined) return undetermined[0] ?? 0;
    return subtract(state, this.#dx, this.#weight);
  }
}
