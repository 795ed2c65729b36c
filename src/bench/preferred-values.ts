/**
 * Preferred numbers of resistors and capacitors. Source: IEC 60063:2015, "Preferred number series for
 * resistors and capacitors", series E6, E12 and E24; each takes every other number of the next.
 */
const E24 = [
  1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8,
  7.5, 8.2, 9.1,
] as const;

const everyNth = (n: number): readonly number[] => E24.filter((_, k) => k % n === 0);

export const PREFERRED_SERIES = { E6: everyNth(4), E12: everyNth(2), E24 } as const;

export type Series = keyof typeof PREFERRED_SERIES;

/** The value of a series whose ratio to `value` (above 0) is nearest to 1. */
export function nearestPreferred(value: number, series: Series): number {
  const decade = Math.floor(Math.log10(value));
  const around = [decade - 1, decade, decade + 1].flatMap((exponent) =>
    // as text, so that 4.7e3 is 4700 and no neighbour of it
    PREFERRED_SERIES[series].map((number) => Number(`${number}e${exponent}`)),
  );
  const distance = (candidate: number) => Math.abs(Math.log(candidate / value));
  return around.reduce((best, candidate) => (distance(candidate) < distance(best) ? candidate : best));
}
