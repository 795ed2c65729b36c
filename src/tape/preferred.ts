/**
 * Preferred frequencies of ISO 266:1997: the series R10 on 1000 Hz, one to a third of an octave.
 * The nominal values are what is engraved and what test tapes carry; the exact ones are 1000·10^(n/10).
 */

/** Nominal values of one decade, from 1 to below 10. */
const R10 = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8] as const;

/** Decades of the series, as powers of ten in Hz: 1 Hz to beyond 100 kHz. */
const DECADES = [0, 1, 2, 3, 4, 5] as const;

/** Far nearer than neighbours of the series, far wider than rounding. */
const EDGE = 1e-9;

const ALL: readonly number[] = DECADES.flatMap((power) => R10.map((digits) => Number(`${digits}e${power}`)));

/** Nominal preferred frequencies from `from` to `to` (Hz), both included, ascending. */
export const preferredBetween = (from: number, to: number): readonly number[] =>
  ALL.filter((hertz) => hertz >= from * (1 - EDGE) && hertz <= to * (1 + EDGE));

/** The exact frequency that a nominal one stands for, Hz: 31.5 stands for 31.623. */
export const exactFrequency = (nominal: number): number =>
  1000 * 10 ** (Math.round(10 * Math.log10(nominal / 1000)) / 10);
