import type { Pattern } from "../kernel/pattern.ts";
import type { Phasor } from "../small-signal.ts";

/** A complex vector: real and imaginary parts. */
export interface ComplexVector {
  readonly re: Float64Array;
  readonly im: Float64Array;
}

export const vectorOf = (size: number): ComplexVector => ({
  re: new Float64Array(size),
  im: new Float64Array(size),
});

/** Σ a_k·b_k, without conjugation. */
export function dot(a: ComplexVector, b: ComplexVector): Phasor {
  let re = 0;
  let im = 0;
  for (let k = 0; k < a.re.length; k++) {
    re += a.re[k]! * b.re[k]! - a.im[k]! * b.im[k]!;
    im += a.re[k]! * b.im[k]! + a.im[k]! * b.re[k]!;
  }
  return { re, im };
}

/** Scales a vector to a largest component of 1, in place. Returns false if it is zero or not finite. */
export function normalise({ re, im }: ComplexVector): boolean {
  let largest = 0;
  let at = 0;
  for (let k = 0; k < re.length; k++) {
    const size = Math.hypot(re[k]!, im[k]!);
    if (!Number.isFinite(size)) return false;
    if (size > largest) {
      largest = size;
      at = k;
    }
  }
  if (largest === 0) return false;
  const by = quotient({ re: 1, im: 0 }, { re: re[at]! / largest, im: im[at]! / largest });
  for (let k = 0; k < re.length; k++) {
    const [a, b] = [re[k]! / largest, im[k]! / largest];
    re[k] = a * by.re - b * by.im;
    im[k] = a * by.im + b * by.re;
  }
  return true;
}

/** y ← M·x for a real M by slot; with `transposed`, Mᵀ·x. */
export function multiply(
  { row, column }: Pattern,
  values: Float64Array,
  x: ComplexVector,
  y: ComplexVector,
  transposed = false,
): void {
  const [to, from] = transposed ? [column, row] : [row, column];
  y.re.fill(0);
  y.im.fill(0);
  for (let s = 0; s < values.length; s++) {
    const value = values[s]!;
    if (value === 0) continue;
    y.re[to[s]!]! += value * x.re[from[s]!]!;
    y.im[to[s]!]! += value * x.im[from[s]!]!;
  }
}

export const quotient = (a: Phasor, b: Phasor): Phasor => {
  const norm = b.re * b.re + b.im * b.im;
  return { re: (a.re * b.re + a.im * b.im) / norm, im: (a.im * b.re - a.re * b.im) / norm };
};

export const product = (a: Phasor, b: Phasor): Phasor => ({
  re: a.re * b.re - a.im * b.im,
  im: a.re * b.im + a.im * b.re,
});

export const distance = (a: Phasor, b: Phasor): number => Math.hypot(a.re - b.re, a.im - b.im);
export const size = ({ re, im }: Phasor): number => Math.hypot(re, im);
