/**
 * What a playback head loses of short wavelengths λ = v / f. Formulae of Wallace (Bell System Technical
 * Journal 30, 1951, p. 1145, from memory) as repeated in teaching notes (Kadis by way of Chowdhury, DAFx-19).
 */

/** Lengths in metres; what is not given costs nothing. */
export interface HeadGeometry {
  /** Effective (magnetic) length of the gap: some 1.11 times what a microscope shows. */
  readonly gap?: number | undefined;
  /** From the tape to the head. */
  readonly spacing?: number | undefined;
  /** Thickness of the magnetic coating. */
  readonly coating?: number | undefined;
}

/** What a null of the gap is shown as, dB: a logarithm has no other end. */
const NULL_DB = -400;

const decibels = (ratio: number): number => (ratio > 0 ? Math.max(NULL_DB, 20 * Math.log10(ratio)) : NULL_DB);

/** Wave number 2π/λ, 1/m. */
const waveNumber = (hertz: number, speed: number): number => (2 * Math.PI * hertz) / speed;

/** Level lost by the distance from the tape (m) at a tape speed (m/s), dB: −54.6 d/λ. */
export const spacingDecibels = (spacing: number, hertz: number, speed: number): number =>
  Math.max(NULL_DB, -20 * Math.LOG10E * waveNumber(hertz, speed) * spacing);

/** Level lost by a gap (m) at a tape speed (m/s), dB: sin(x)/x with x = π·g/λ; −400 at its nulls. */
export function gapDecibels(gap: number, hertz: number, speed: number): number {
  const x = (waveNumber(hertz, speed) * gap) / 2;
  return x === 0 ? 0 : decibels(Math.abs(Math.sin(x) / x));
}

/** Level lost by the thickness (m) of the coating at a tape speed (m/s), dB: (1 − e^−kδ)/kδ. */
export function thicknessDecibels(coating: number, hertz: number, speed: number): number {
  const x = waveNumber(hertz, speed) * coating;
  return x === 0 ? 0 : decibels(-Math.expm1(-x) / x);
}

/** All that is given of a head, together: dB, never above 0. */
export function headDecibels(
  { gap = 0, spacing = 0, coating = 0 }: HeadGeometry,
  hertz: number,
  speed: number,
): number {
  const lost =
    gapDecibels(gap, hertz, speed) +
    spacingDecibels(spacing, hertz, speed) +
    thicknessDecibels(coating, hertz, speed);
  return Math.max(NULL_DB, lost);
}
