/** Results of `power` as plain data: SI units, named in the key. Nothing is rounded here. */

/** The steady state under a sine of one level. */
export interface PowerPoint {
  /** EMF of the source, rms. */
  readonly emf_volts: number;
  /** Fundamental at the output, rms: V, or A where the path ends in a current. */
  readonly output: number;
  readonly gain_db: number;
  /** Mean of v·i in the load, all harmonics; where the path ends in a part. */
  readonly output_watts?: number;
  /** Root of the sum of squares of the harmonics from the second, over the first. */
  readonly distortion: number;
  /** Harmonics from the second, over the first. */
  readonly harmonics: readonly number[];
  /** What the EMFs of the batteries give. */
  readonly supply_watts: number;
}

/** A level looked for: where the distortion reaches 10 %, where the gain has fallen by 1 dB. */
export interface PowerLimit extends PowerPoint {
  readonly what: "10 % distortion" | "1 dB less gain";
}

/** One path in one mode, with one set of what is varied. */
export interface PowerCurve {
  readonly path: string;
  readonly mode: string;
  readonly from: string;
  readonly to: string;
  readonly quantity: "voltage" | "current";
  readonly hertz: number;
  /** How many harmonics were balanced. */
  readonly harmonics: number;
  /** What is varied, in words; nothing if nothing is. */
  readonly variant?: string;
  readonly ambient_celsius: number;
  /** Collector currents of the push-pull pairs without a signal, A. */
  readonly quiescent_amps: Readonly<Record<string, number>>;
  /** Of the small signal. */
  readonly gain_db: number;
  /** By rising level. */
  readonly points: readonly PowerPoint[];
  readonly limits: readonly PowerLimit[];
  /** Stopped before the last level. */
  readonly interrupted?: true;
  /** EMF above which no steady state was found, V rms. */
  readonly lost_above_volts?: number;
}
