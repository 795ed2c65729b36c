import { type Continuation, WHOLE } from "./dc-system.ts";
import type { Newton, NewtonOutcome } from "./newton.ts";

/** Steps that Newton may take at each point of a ramp. */
const STEPS_PER_POINT = 40;
const FIRST_STRIDE = 0.1;
const LEAST_STRIDE = 1e-5;

export interface RampOutcome {
  /** How far the ramp came; 1 is the whole circuit. */
  readonly reached: number;
  /** The last failure, if it did not come to 1. */
  readonly failure?: NewtonOutcome;
}

/**
 * Follows the solution while `at(t)` goes from t = 0 to 1, starting from `state` (a solution at 0),
 * with strides that shrink where Newton fails and grow where it does not.
 */
export function ramp(newton: Newton, state: Float64Array, at: (t: number) => Continuation): RampOutcome {
  const trial = new Float64Array(state.length);
  let reached = 0;
  let stride = FIRST_STRIDE;
  let failure: NewtonOutcome | undefined;
  while (reached < 1) {
    const t = Math.min(1, reached + stride);
    trial.set(state);
    const outcome = newton.solve(trial, at(t), STEPS_PER_POINT);
    if (outcome.end === "converged") {
      state.set(trial);
      reached = t;
      stride *= 2;
      continue;
    }
    failure = outcome;
    stride /= 2;
    if (stride < LEAST_STRIDE) return { reached, ...(failure && { failure }) };
  }
  return { reached };
}

/** Supplies from nothing to their full EMF, junctions at ambient. */
export const risingSupplies = (t: number): Continuation => ({ ...WHOLE, supplies: t, heating: 0 });

const FIRST_SHUNT = 0.1;
const SHUNT_DECADES = 13;

/** A conductance from every node to chassis, from 0.1 S down to nothing. */
export const fadingShunt = (t: number): Continuation => ({
  ...WHOLE,
  heating: 0,
  shunt: t >= 1 ? 0 : FIRST_SHUNT * 10 ** (-SHUNT_DECADES * t),
});
