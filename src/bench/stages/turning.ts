import { over, type Phasor } from "./phasor.ts";

/** By how much a phasor turns along a sweep, rad, every step counted the short way round. */
export function turning(values: readonly Phasor[]): number {
  let sum = 0;
  for (let i = 1; i < values.length; i++) {
    const { re, im } = over(values[i]!, values[i - 1]!);
    sum += Math.atan2(im, re);
  }
  return sum;
}

/**
 * Natural frequencies that grow, from the turning of a return difference from zero to infinite frequency
 * (Nyquist 1932): every growing one turns it back by half a turn.
 */
export const growing = (differences: readonly Phasor[]): number =>
  Math.max(0, Math.round(-turning(differences) / Math.PI));
