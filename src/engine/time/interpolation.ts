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

/** Writes the weights of `weightsAt` into every other place of `into`, from `first`. */
export function weighAt(
  points: readonly TimePoint[],
  seconds: number,
  into: Float64Array,
  first: number,
): void {
  for (let n = 0; n < points.length; n++) {
    const own = points[n]!.seconds;
    let product = 1;
    for (let m = 0; m < points.length; m++) {
      const other = points[m]!.seconds;
      if (m !== n) product *= (seconds - other) / (own - other);
    }
    into[first + 2 * n] = product;
  }
}
