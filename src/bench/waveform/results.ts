/** Results of `waveform` as plain data: SI units, named in the key. Nothing is rounded here. */

/** Something that happened: a switch turned, a contact opened. */
export interface Mark {
  readonly what: string;
  readonly seconds: number;
}

/** Of a waveform that repeats itself at the end of the run, over its last whole periods. */
export interface Periodic {
  readonly hertz: number;
  readonly mean: number;
  /** Half of what lies between the greatest and the least value. */
  readonly peak: number;
  /** Without the mean. */
  readonly rms: number;
  /** Peak value of harmonics 1, 2, 3 …. */
  readonly harmonics: readonly number[];
  /** Root of the sum of squares of the harmonics from the second, over the first; of several tones, of all that is none of them, over them. */
  readonly distortion: number;
  /** Share of each period above the middle between greatest and least value. */
  readonly duty: number;
}

/** Amplitude as e^(growth·t), while the swing is small. */
export interface BuildUp {
  readonly hertz: number;
  readonly growth_per_second: number;
}

/** What is read off one trace. Volts, amperes or revolutions a minute. */
export interface TraceReading {
  readonly least: number;
  readonly greatest: number;
  readonly last: number;
  /** From then on it stays within 1 % of all its travel of where it ends. */
  readonly settled_seconds?: number;
  readonly periodic?: Periodic;
  readonly build_up?: BuildUp;
}

/** Of a trace that moves faster than it is written down: its extremes since the value before, as many as `seconds`. */
export interface TraceEnvelope {
  readonly least: readonly number[];
  readonly greatest: readonly number[];
  /** Half of the turns a second where there are most, of one that turns more than once between two values. */
  readonly about_hertz?: number;
}

/** The contact of a governor through a run. */
export interface ContactReading {
  readonly contact: string;
  readonly motor: string;
  readonly open_at_start: boolean;
  readonly open_at_end: boolean;
  /** How often it has opened or closed. */
  readonly workings: number;
  readonly last_rpm: number;
  /** From opening to opening, over the later half of the whole periods since the last event; absent if there is none. */
  readonly bursts?: {
    readonly periods: number;
    readonly per_second: number;
    readonly open_share: number;
    /** How long it is open at a time, on average. */
    readonly open_seconds: number;
    /** Mean over time, and extremes. */
    readonly rpm: number;
    readonly least_rpm: number;
    readonly greatest_rpm: number;
  };
}

/** How the small-signal gain of a path at 1 kHz comes up. */
export interface PathReading {
  readonly path: string;
  readonly seconds: readonly number[];
  readonly gain_db: readonly number[];
  /** At the operating point that the circuit comes to. */
  readonly final_gain_db: number;
  /** From then on the gain is within 1 dB of the final one; none if not within the run. */
  readonly mute_seconds?: number;
}

export interface Waveform {
  readonly mode: string;
  readonly seconds: readonly number[];
  /** Volts, by shown name. */
  readonly nets: Readonly<Record<string, readonly number[]>>;
  /** Amperes into the first pin, by part. */
  readonly currents?: Readonly<Record<string, readonly number[]>>;
  /** Revolutions a minute, by motor. */
  readonly speeds_rpm?: Readonly<Record<string, readonly number[]>>;
  readonly marks: readonly Mark[];
  /** By trace: a net, `A minus B`, `PART current`, `MOTOR speed`. */
  readonly readings: Readonly<Record<string, TraceReading>>;
  /** By trace, as `readings`; only those that move faster than they are written down. */
  readonly envelopes?: Readonly<Record<string, TraceEnvelope>>;
  /** Every governor that is left to its motor. */
  readonly contacts?: readonly ContactReading[];
  readonly paths: readonly PathReading[];
  /** Stopped before its end, s. */
  readonly interrupted_seconds?: number;
}
