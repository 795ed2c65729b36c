import type { Phasor } from "../../engine/small-signal.ts";

export type { Phasor };

/** Arithmetic of phasors: plain functions, so that results stay plain data. */
export const ZERO: Phasor = { re: 0, im: 0 };
export const ONE: Phasor = { re: 1, im: 0 };

export const plus = (a: Phasor, b: Phasor): Phasor => ({ re: a.re + b.re, im: a.im + b.im });
export const minus = (a: Phasor, b: Phasor): Phasor => ({ re: a.re - b.re, im: a.im - b.im });
export const scaled = (a: Phasor, factor: number): Phasor => ({ re: a.re * factor, im: a.im * factor });
export const times = (a: Phasor, b: Phasor): Phasor => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});

/** Quotient; 0 by 0 counts as 0. */
export function over(a: Phasor, b: Phasor): Phasor {
  const square = b.re * b.re + b.im * b.im;
  if (square === 0) return ZERO;
  return { re: (a.re * b.re + a.im * b.im) / square, im: (a.im * b.re - a.re * b.im) / square };
}

export const size = ({ re, im }: Phasor): number => Math.hypot(re, im);
/** Angle in degrees, −180 … 180. */
export const degrees = ({ re, im }: Phasor): number => (Math.atan2(im, re) * 180) / Math.PI;
/** Magnitude with the sign of the real part: −137 for an inverting stage. */
export const signed = (a: Phasor): number => (a.re < 0 ? -size(a) : size(a));
