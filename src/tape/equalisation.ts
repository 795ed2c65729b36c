/**
 * Equalisation of magnetic tape by time constants. IEC 60094-1 defines the flux to be recorded, against
 * frequency, as the impedance of a capacitor with a resistor in series and one in parallel (formula from
 * memory of its clause 15; the wording agrees with McKnight, Tape Recording Equalization Fundamentals).
 */

/** Time constants in seconds; `low` is Infinity where the standard has no bass term. */
export interface TimeConstants {
  /** Bass: 3180 µs raises the recorded flux below 50 Hz. */
  readonly low: number;
  /** Treble: 120 µs lowers the recorded flux above 1326 Hz. */
  readonly high: number;
}

/** 10·lg(1 + x²), dB, without overflow for any finite x. */
const shelf = (x: number): number => 20 * Math.log10(Math.hypot(1, x));

/** Angular frequency, rad/s. */
const omega = (hertz: number): number => 2 * Math.PI * hertz;

/**
 * Recorded flux at `hertz`, dB re a flat midband:
 * L(f) = 10·lg(1 + 1/(2πf·low)²) − 10·lg(1 + (2πf·high)²).
 */
export const fluxDecibels = ({ low, high }: TimeConstants, hertz: number): number =>
  shelf(1 / (omega(hertz) * low)) - shelf(omega(hertz) * high);

/** The rise of a head's EMF with frequency, 20·lg(f / 1 kHz), dB: 6 dB an octave. */
export const riseDecibels = (hertz: number): number => 20 * Math.log10(hertz / 1000);

/**
 * What an amplifier behind an ideal head must do so that the tape plays back flat:
 * A(f) = −L(f) − 20·lg(f / 1 kHz), dB. One pole at 1/(2π·low), one zero at 1/(2π·high).
 */
export const amplifierDecibels = (constants: TimeConstants, hertz: number): number =>
  -fluxDecibels(constants, hertz) - riseDecibels(hertz);

/** The frequency at which a time constant (s) has its 3 dB, Hz; 0 for an infinite one. */
export const cornerHertz = (seconds: number): number => 1 / (2 * Math.PI * seconds);
