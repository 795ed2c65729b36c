/** Results of `hiss` as plain data: SI units, named in the key. Nothing is rounded here. */
import type { WEIGHTINGS } from "../../tape/weighting.ts";

export type Weighting = keyof typeof WEIGHTINGS;

/**
 * Noise over the band, rms. The output is in volts, or in amperes for a path to a current. The input is the
 * EMF at 1 kHz that would give as much: output over gain at 1 kHz; absent where there is no gain.
 */
export interface NoiseLevel {
  readonly output_volts_rms?: number;
  readonly output_amps_rms?: number;
  readonly input_volts_rms?: number;
  /** Signal over noise, dB, where an EMF is given. */
  readonly signal_to_noise_db?: number;
}

/** How much worse than its source's resistance at 290 K the whole path is, dB. */
export interface NoiseFigure {
  readonly at_1k_db: number;
  readonly band_db: number;
  /** What of the source makes the noise that counts as its own: `dcr (thermal)`. */
  readonly source: readonly string[];
}

/** One origin of noise in one part. Shares are of the output's noise power in the band. */
export interface Contributor {
  readonly part: string;
  readonly origin: string;
  readonly share: number;
  readonly weighted: Readonly<Record<Weighting, number>>;
  /** The part is the path's source. */
  readonly source?: true;
  /** Density at the output beside `hertz`; of the largest few only. */
  readonly output_volts_per_root_hertz?: readonly number[];
  readonly output_amps_per_root_hertz?: readonly number[];
}

/** The noise of one path in one mode. Lists are as long as `hertz`. */
export interface PathHiss extends NoiseLevel {
  readonly path: string;
  readonly mode: string;
  readonly from: string;
  readonly to: string;
  readonly quantity: "voltage" | "current";
  readonly low_hertz: number;
  readonly high_hertz: number;
  /** What grows in this mode, Hz (0: without a swing): the levels are those of a point that does not hold. */
  readonly growing_hertz?: readonly number[];
  /** At 1 kHz, output over EMF; −400 for none. */
  readonly gain_db: number;
  /** rms under the weighting curve, 0 dB at 1 kHz; not what a quasi-peak meter reads. */
  readonly weighted: Readonly<Record<Weighting, NoiseLevel>>;
  /** Absent where the source has no resistance, or nothing of it arrives. */
  readonly noise_figure?: NoiseFigure;
  /** EMF at 1 kHz that signal-to-noise ratios refer to, V rms. */
  readonly emf_volts?: number;
  readonly hertz: readonly number[];
  readonly output_volts_per_root_hertz?: readonly number[];
  readonly output_amps_per_root_hertz?: readonly number[];
  /** Largest share first. */
  readonly contributors: readonly Contributor[];
}
