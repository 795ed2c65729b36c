import type { SmallSignal } from "./small-signal.ts";

/** Where a sweep stopped, and the unknowns that nothing determines there. */
export interface SweepStop {
  readonly hertz: number;
  readonly undetermined: readonly number[];
}

/**
 * Tunes to each of the frequencies (Hz), two at a time where one order of pivots suits both, and calls
 * `visit` with the index of the first and how many there are: lane 0 holds that one, lane 1 the next.
 */
export function sweep(
  smallSignal: SmallSignal,
  hertz: readonly number[],
  visit: (first: number, lanes: 1 | 2) => void,
): SweepStop | undefined {
  for (let k = 0; k < hertz.length; ) {
    const first = hertz[k]!;
    const next = hertz[k + 1] ?? first;
    const undetermined = smallSignal.tune(first, next);
    if (undetermined !== undefined) return { hertz: first, undetermined };
    const lanes = k + 1 < hertz.length && smallSignal.hasSecond(next) ? 2 : 1;
    visit(k, lanes);
    k += lanes;
  }
  return undefined;
}
