/**
 * What every kind of part says of itself: its words (pins, properties, units) and its equations.
 * A new kind is one new file beside this one and one line in `index.ts`.
 */
import type { Circuit, Part } from "../circuit/circuit.ts";
import type { Device, OwnUnknown, Stamp, StateEvent, Surroundings } from "./equations.ts";
import type { Words } from "./words.ts";

export type * from "./equations.ts";
export { FOUND } from "./equations.ts";
export * from "./stamping.ts";
export type * from "./words.ts";

/** A pair of pins whose voltage and current the tables show, and the name they show it under. */
export interface Port {
  readonly name: string;
  readonly from: number;
  readonly to: number;
}

/** What a part stands: its voltage (first pin to last), current or dissipation must lie between these. */
export interface Limit {
  readonly quantity: "volts" | "amps" | "watts";
  readonly least?: number;
  readonly greatest?: number;
  /** Completes the sentence: `is above its rated voltage`. */
  readonly meaning: string;
}

export interface PartKind extends Words {
  /** Unknowns beside the pins, in local order. */
  readonly unknowns?: (part: Part, circuit: Circuit) => readonly OwnUnknown[];
  /** Linear equations. */
  readonly stamp?: (part: Part, into: Stamp, surroundings: Surroundings) => void;
  /** Nonlinear equations. */
  readonly equations?: (part: Part, surroundings: Surroundings) => Device | undefined;
  /** What changes its state from the one it is in; none where a mode holds it. */
  readonly events?: (part: Part) => readonly StateEvent[];
  /** What it stands, for the check at the operating point. */
  readonly limits?: (part: Part, circuit: Circuit) => readonly Limit[];
  /** Ports for the tables, if other than first pin to last pin. */
  readonly ports?: (part: Part) => readonly Port[];
  /** Local pins joined by something direct current can pass, for the check of paths to chassis. */
  readonly conducts?: (part: Part) => readonly (readonly [number, number])[];
  /** Local pins joined by something without any resistance, for the check of loops. */
  readonly stiff?: (part: Part) => readonly (readonly [number, number])[];
}

/** The value of a property that the kind always has; a fault of ours if it is missing. */
export function value(part: Part, key: string): number {
  const found = part.values[key];
  if (found === undefined) throw new Error(`${part.name} has no ${key}`);
  return found;
}

/** Rated voltage, either way round, of a part that has one. */
export function ratedVolts(part: Part): Limit[] {
  const { rated } = part.values;
  return rated === undefined
    ? []
    : [{ quantity: "volts", least: -rated, greatest: rated, meaning: "its rated voltage" }];
}
