import type { PartState } from "../../circuit/circuit.ts";
import type { Conditions } from "../conditions.ts";

/** A sine EMF of a source, V rms. */
export interface Tone {
  readonly part: string;
  readonly hertz: number;
  readonly volts: number;
}

/** Something done to the circuit at a time: parts set, or the tones of a source switched. */
export interface PlannedEvent {
  readonly seconds: number;
  /** As given, for the mark: `S1=record`. */
  readonly what: string;
  readonly states: readonly PartState[];
  /** Tones of a source on or off. */
  readonly keyed?: { readonly part: string; readonly on: boolean };
}

/** What is looked at. */
export type Shown =
  | { readonly kind: "net"; readonly net: number; readonly minus?: number; readonly name: string }
  | { readonly kind: "current"; readonly part: string; readonly name: string }
  | { readonly kind: "speed"; readonly part: string; readonly name: string };

export interface Start {
  /** Everything discharged, or the operating point. */
  readonly from: "rest" | "point";
  /** Nets (indices into `Circuit.nets`) put to other voltages. */
  readonly displaced: readonly { readonly net: number; readonly volts: number }[];
}

const SECONDS = 1;
const TONE_PERIODS = 20;
/** A run begins with steps not much shorter, s. */
export const SHORTEST_RUN = 1e-7;
/** Nobody waits longer for a run, s. */
export const LONGEST_RUN = 36_000;
/** Values written down of each trace, if nothing else is asked for. */
export const VALUES = 1000;

/** How long a run lasts, s, if nobody says: so many periods of its lowest tone. */
export const usualDuration = (tones: readonly Tone[]): number =>
  tones.length > 0 ? TONE_PERIODS / Math.min(...tones.map(({ hertz }) => hertz)) : SECONDS;

/** Share of its swing by which a voltage or current may be off, if nothing else is asked for. */
export const TOLERANCE = 1e-4;

export interface WaveformConditions extends Conditions {
  /** How long, and how often values are written down, s. */
  readonly seconds: number;
  readonly every: number;
  readonly start: Start;
  readonly tones: readonly Tone[];
  readonly events: readonly PlannedEvent[];
  /** All nets if empty. */
  readonly shown: readonly Shown[];
  /** Share of its swing by which a voltage or current may be off. */
  readonly tolerance?: number;
}
