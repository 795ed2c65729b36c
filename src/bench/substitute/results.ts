/** What `substitute` finds, SI units, nothing rounded. */
import type { TransistorReading } from "../results.ts";

/** Gain at 1 kHz and half-power points of a path; a point is absent where there is none from 1 Hz to 100 MHz. */
export interface PathFigures {
  readonly quantity: "voltage" | "current";
  readonly gain_db: number;
  readonly low_hertz?: number;
  readonly high_hertz?: number;
  /** Noise as EMF of the source, 20 Hz to 20 kHz, ITU-R 468, rms; absent without a gain at 1 kHz. */
  readonly input_noise_volts_rms?: number;
}

export interface PathChange extends PathFigures {
  /** Against the type fitted. */
  readonly change_db: number;
  readonly noise_change_db?: number;
}

/** A net, collector current or gain that lies outside what samples and tolerances explain. */
export interface Moved {
  readonly what: string;
  readonly unit: "V" | "A" | "dB";
  readonly from: number;
  readonly to: number;
  /** The spread of the circuit with the type fitted: the 2.5 % and 97.5 % points. */
  readonly least: number;
  readonly greatest: number;
}

/** The bias resistor that restores the collector current, and what the nearest E12 value gives. */
export interface Rebias {
  readonly resistor: string;
  readonly ohms: number;
  readonly exact_ohms: number;
  readonly preferred_ohms: number;
  /** Collector current with the type fitted, in the mode it was restored in, natural sign. */
  readonly wanted_amps: number;
  readonly wanted_in: string;
  /** With the E12 value. */
  readonly transistor: TransistorReading;
  readonly paths: Readonly<Record<string, PathChange>>;
}

export interface Candidate {
  readonly type: string;
  /** Greatest dissipation of the type, if its sheet gives one. */
  readonly ptot_watts?: number;
  readonly transistors: Readonly<Record<string, TransistorReading>>;
  /** Limits that are passed with it and were not before, a sentence each. */
  readonly limits: readonly string[];
  /** What else to know before soldering. */
  readonly warnings: readonly string[];
  readonly paths: Readonly<Record<string, PathChange>>;
  readonly moved: readonly Moved[];
  /** How much changes in this mode: root of the sum of squares of logarithmic changes; 0 is nothing. */
  readonly change: number;
  readonly rebias?: Rebias;
}

/** A type that cannot be fitted: no operating point, or, where all were tried, limits that do not suffice. */
export interface LeftOut {
  readonly type: string;
  readonly reason: string;
}

/** One mode. Candidates stand in the order of their change over all modes, the least first. */
export interface Substitution {
  readonly mode: string;
  readonly part: string;
  /** Transistors that got the same type with it. */
  readonly also?: readonly string[];
  readonly fitted: {
    readonly type: string;
    readonly ptot_watts?: number;
    readonly transistors: Readonly<Record<string, TransistorReading>>;
    readonly paths: Readonly<Record<string, PathFigures>>;
  };
  readonly candidates: readonly Candidate[];
  readonly left_out: readonly LeftOut[];
}
