import type { Continuation, DcSystem } from "./dc-system.ts";

/** How Newton's iteration ended. */
export type NewtonEnd = "converged" | "too many steps" | "not finite" | "undetermined";

export interface NewtonOutcome {
  readonly end: NewtonEnd;
  readonly steps: number;
  /** The unknown that moved most in the last step, or one that nothing determines. */
  readonly hangsAt: number;
}

/** Below this change (V, mA or K) the iteration is at the end of its quadratic run. */
const NEAR = 1e-6;
/** From there, so many more steps at most bring it down to rounding. */
const POLISHING_STEPS = 4;
/** A change this small, relative to the unknown, is rounding. */
const ROUNDING = 1e-15;

/** Volts, milliamperes and kelvins weigh alike when changes are compared. */
const AMPERE_WEIGHT = 1e3;

interface Change {
  readonly largest: number;
  readonly at: number;
  readonly rounding: boolean;
}

function subtract(state: Float64Array, dx: Float64Array, weight: Float64Array): Change {
  let largest = 0;
  let at = 0;
  let rounding = true;
  for (let k = 0; k < dx.length; k++) {
    state[k]! -= dx[k]!;
    const change = Math.abs(dx[k]!) * weight[k]!;
    if (!(change <= largest)) {
      largest = change;
      at = k;
    }
    if (change > ROUNDING * Math.max(1, Math.abs(state[k]!) * weight[k]!)) rounding = false;
  }
  return { largest, at, rounding };
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

  /** Moves `state` to a solution of F(x) = 0 in place. */
  solve(state: Float64Array, continuation: Continuation, mostSteps: number): NewtonOutcome {
    this.system.remember(state);
    let at = 0;
    for (let step = 1; step <= mostSteps; step++) {
      const change = this.#step(state, continuation, true);
      if (typeof change === "number") return { end: "undetermined", steps: step, hangsAt: change };
      at = change.at;
      if (!Number.isFinite(change.largest)) return { end: "not finite", steps: step, hangsAt: at };
      if (this.system.whole && change.largest < NEAR) return this.#polish(state, continuation, step);
    }
    return { end: "too many steps", steps: mostSteps, hangsAt: at };
  }

  #step(state: Float64Array, continuation: Continuation, tempered: boolean): Change | number {
    this.steps++;
    this.system.evaluate(state, continuation, tempered);
    const undetermined = this.system.step(this.#dx);
    if (undetermined !== undefined) return undetermined[0] ?? 0;
    return subtract(state, this.#dx, this.#weight);
  }

  /** Goes on until the changes no longer shrink: what is left is rounding. */
  #polish(state: Float64Array, continuation: Continuation, steps: number): NewtonOutcome {
    let last = NEAR;
    for (let step = 1; step <= POLISHING_STEPS; step++) {
      const change = this.#step(state, continuation, false);
      if (typeof change === "number" || !Number.isFinite(change.largest)) {
        return { end: "not finite", steps: steps + step, hangsAt: 0 };
      }
      if (change.rounding || change.largest > last / 2) break;
      last = change.largest;
    }
    return { end: "converged", steps, hangsAt: 0 };
  }
}
