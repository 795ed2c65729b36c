import type { PairMemory } from "./pair-memory.ts";
import type { PairKinds } from "./pair-places.ts";
import type { PointArrays } from "./pair-points.ts";

/** What is computed of points in time, given by their numbers in the memory. */
export interface PointsWork {
  /** x ← Σ `guessWeights`·state of four points, at both points of the step. */
  guess(a: number, b: number, c: number, d: number): void;
  /** Copies unknowns, F and q of the step's middle and end into two points. */
  take(middle: number, end: number): void;
  /** residual ← Σ `bendWeights`·F of five points at the middle of rows with a charge, elsewhere 0. */
  history(a: number, b: number, c: number, d: number, e: number): void;
  /**
   * The largest of dx·`storedWeight` at the end, and of (|Σ w·state| − least)·`gapWeight` of five points, w
   * and least being the six of `gapWeights`.
   */
  gaps(a: number, b: number, c: number, d: number, e: number): number;
}

/** The same as `pair-points-code.ts`, by loops. */
export function pointsLoops({ hasCharge }: PairKinds, memory: PairMemory): PointsWork {
  const { points, guessWeights, bendWeights, gapWeights, gapWeight, storedWeight, x, f, q, residual, dx } =
    memory;
  const size = hasCharge.length;
  const at = (indices: readonly number[]): PointArrays[] => indices.map((index) => points[index]);
  const sum = (lists: readonly Float64Array[], weights: Float64Array, k: number) => {
    let total = 0;
    for (let n = 0; n < lists.length; n++) total += weights[n] * lists[n][k];
    return total;
  };
  return {
    guess(...indices) {
      const lists = at(indices).map(({ state }) => state);
      const [middle, end] = [0, 1].map((half) => guessWeights.filter((_, n) => n % 2 === half));
      for (let k = 0; k < size; k++) {
        x[2 * k] = sum(lists, middle, k);
        x[2 * k + 1] = sum(lists, end, k);
      }
    },
    take(...indices) {
      at(indices).forEach((point, which) => {
        for (let k = 0; k < size; k++) {
          point.state[k] = x[2 * k + which];
          point.f[k] = f[2 * k + which];
          point.q[k] = q[2 * k + which];
        }
      });
    },
    history(...indices) {
      const lists = at(indices).map((point) => point.f);
      residual.fill(0);
      for (let k = 0; k < size; k++) if (hasCharge[k] === 1) residual[2 * k] = sum(lists, bendWeights, k);
    },
    gaps(...indices) {
      const lists = at(indices).map(({ state }) => state);
      let largest = 0;
      for (let k = 0; k < size; k++) {
        const gap = (Math.abs(sum(lists, gapWeights, k)) - gapWeights[5]) * gapWeight[k];
        largest = Math.max(largest, gap, Math.abs(dx[2 * k + 1]) * storedWeight[k]);
      }
      return largest;
    },
  };
}
