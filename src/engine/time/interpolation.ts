import type { TimePoint } from "./collocation.ts";

/**
 * Values between the points of two neighbouring steps, by the polynomial through all of them (Lagrange);
 * weights for one time, used for as many unknowns as are wanted.
 */
export function weightsAt(points: readonly TimePoint[], seconds: number): number[] {
  return points.map((point) =>
    points.reduce(
      (product, other) =>
        other === point ? product : (product * (seconds - other.seconds)) / (point.seconds - other.seconds),
      1,
    ),
  );
}

/** One unknown between the points. */
export const valueAt = (points: readonly TimePoint[], weights: readonly number[], unknown: number): number =>
  points.reduce((sum, { state }, k) => sum + weights[k]! * state[unknown]!, 0);
