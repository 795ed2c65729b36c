import { isSolved, type OperatingPointSolver, type SolvedPoint } from "../../engine/operating-point.ts";
import type { Observer } from "./observer.ts";
import { settled } from "./quantiles.ts";
import type { Cause } from "./results.ts";
import type { Specimens } from "./specimen.ts";
import type { Variable } from "./variables.ts";

/** Standard deviation of a number evenly distributed between −1 and 1. */
const DEVIATION = 1 / Math.sqrt(3);

/** What each variable alone does when it goes one standard deviation up and down. */
export interface Sensitivities {
  readonly variables: readonly Variable[];
  /** By variable and observation: half the difference between up and down. */
  readonly effect: readonly Float64Array[];
}

/**
 * Linear sensitivities by central differences, one standard deviation to each side of the centre, so that
 * an effect is what the variable contributes to the standard deviation of an observation. A variable that
 * has no operating point on one side is taken to have no effect: its trials show as failed.
 */
export function sensitivities(
  solver: OperatingPointSolver,
  specimens: Specimens,
  variables: readonly Variable[],
  observer: Observer,
  centre: SolvedPoint,
): Sensitivities {
  const t = new Float64Array(variables.length);
  const seen = (k: number, at: number, into: Float64Array) => {
    t[k] = at;
    const { circuit, ambientCelsius } = specimens.at(t);
    solver.retune(circuit, ambientCelsius);
    t[k] = 0;
    const point = solver.solve(centre.state);
    return isSolved(point) && observer.observe(point, into);
  };
  const up = new Float64Array(observer.size);
  const down = new Float64Array(observer.size);
  const effect = variables.map((_, k) => {
    const both = seen(k, DEVIATION, up) && seen(k, -DEVIATION, down);
    return both ? up.map((value, m) => (value - down[m]!) / 2) : new Float64Array(observer.size);
  });
  return { variables, effect };
}

/** Shares smaller than this are not worth naming. */
const LEAST_SHARE = 0.02;
const MOST_CAUSES = 6;

/** What makes most of the spread of an observation: shares of the variance, greatest first. */
export function causesOf({ variables, effect }: Sensitivities, observation: number): readonly Cause[] {
  const variance = effect.map((each) => each[observation]! ** 2);
  const whole = variance.reduce((sum, each) => sum + each, 0);
  if (!(whole > 0)) return [];
  return variables
    .map(({ part, quantity }, k) => ({ part, quantity, share: settled(variance[k]! / whole) }))
    .filter(({ share }) => share >= LEAST_SHARE)
    .toSorted((a, b) => b.share - a.share)
    .slice(0, MOST_CAUSES);
}
