/**
 * What every kind of part says of itself: its words (pins, properties, units) and its equations.
 * A new kind is one new file beside this one and one line in `index.ts`.
 */
import type { Circuit, Part } from "../circuit/circuit.ts";

// ---- words -------------------------------------------------------------------------------------

export type Unit =
  | "ohm"
  | "farad"
  | "henry"
  | "volt"
  | "ampere"
  | "watt"
  | "hertz"
  | "celsius"
  | "kelvin"
  | "percent"
  | "metre"
  | "turns"
  | "rpm"
  | "volt-per-rpm"
  | "inertia"
  | "torque"
  | "number";

/** A number a part has, kept in `Part.values` under `key` in SI units (celsius as °C, percent as a fraction, speed in rpm). */
export interface Quantity {
  readonly key: string;
  readonly unit: Unit;
  /** In words, for messages, completion and the documentation. */
  readonly meaning: string;
  /** May be zero. Otherwise it must be above zero. */
  readonly zero?: true;
  /** May be negative. */
  readonly signed?: true;
  /** Outside, the value is kept with a warning that says what it was read as. */
  readonly plausible?: readonly [least: number, greatest: number];
  readonly default?: number;
}

/** What may stand behind a value: `at 60 kHz`, `from 3mH to 7mH`, `on primary`. */
export type Tail =
  | (Quantity & { readonly word: string; readonly optional?: true })
  | { readonly word: string; readonly key: string; readonly names: "winding"; readonly optional?: true };

/** A value with the word before it, if it has one, and its tails. */
export interface Property extends Quantity {
  readonly tails?: readonly Tail[];
}

/** How the part's statement says where it is connected. */
export type Connection =
  /** `A to B [to C]`: one list of pin names for each number of points allowed. */
  | { readonly form: "to"; readonly pins: readonly (readonly string[])[] }
  /** `plus A minus B`: the pin's name before its point. Optional ones may be wired elsewhere. */
  | { readonly form: "labelled"; readonly pins: readonly string[]; readonly optional?: true }
  /** Lines of its own: `winding NAME 1200 turns A to B`. */
  | { readonly form: "windings" }
  /** Lines of its own: `pole NAME COMMON POSITION X …`, behind the names of the positions. */
  | { readonly form: "poles" };

export interface Words {
  readonly keyword: string;
  /** The usual designator: `R` for R1. */
  readonly letters: string;
  readonly summary: string;
  /** A device type follows the name. */
  readonly device?: "transistor" | "diode";
  /** Values without a word before them, in this order; those marked optional may be left out. */
  readonly bare?: readonly (Property & { readonly optional?: true })[];
  /** Values behind their word, in any order, each optional. */
  readonly words?: Readonly<Record<string, Property>>;
  /** Plain words to choose from, by key; the first is the default. */
  readonly choices?: Readonly<Record<string, readonly string[]>>;
  /** Words that a mode may say of the part, `GV1 open`. Kept in `Part.choices` under `state`. */
  readonly states?: readonly string[];
  /** Names of other parts behind a word, by word: `tracks T6`. Kept in `Part.choices`. */
  readonly references?: Readonly<Record<string, { readonly kind: string; readonly meaning: string }>>;
  readonly connection: Connection;
  /** Other names of pins: `emitter` for `e`. */
  readonly aliases?: Readonly<Record<string, string>>;
  /** Takes a tolerance (on its first bare value). */
  readonly tolerance?: true;
  /** An alternating source that a path may start from. */
  readonly source?: true;
  /** Reasons why the values of a part do not go together. */
  readonly check?: (part: Part, circuit: Circuit) => readonly Contradiction[];
}

export interface Contradiction {
  readonly message: string;
  readonly hint?: string;
  readonly severity?: "warning";
  /** The property at fault, to mark its value instead of the part's name. */
  readonly key?: string;
}

// ---- equations ---------------------------------------------------------------------------------

/**
 * The equations of a part are written over its local unknowns: its pins in order (volts), then those
 * it declares itself. Row and column numbers below are these local ones.
 *
 *     node row     sum of currents leaving the node into the part = 0           (A)
 *     branch row   the equation that determines the branch's current            (V)
 *     temperature  junction temperature − ambient − rth·dissipation = 0         (K)
 *     speed row    sum of torques that hold the motor back = 0                  (N·m)
 */
export type OwnUnknown =
  | { readonly kind: "node"; readonly name: string }
  | { readonly kind: "branch"; readonly name: string }
  /**
   * The junction of a transistor, shared by all parts that name the same one. Where no part says that
   * it heats, it stays at ambient and is no unknown.
   */
  | { readonly kind: "temperature"; readonly of: string; readonly heats?: true }
  /**
   * Angular speed of a motor, rad/s, shared by all parts that name the same one. Where no part says that it
   * turns, it stands still and is no unknown.
   */
  | { readonly kind: "speed"; readonly of: string; readonly turns?: true };

/**
 * Where a part writes its linear equations, (G + s·C)·x = sources. The order of the calls may depend
 * on which properties a part has and on nothing else, so that a change of value keeps the structure.
 */
export interface Stamp {
  /** Adds `value` to the entry of G. */
  g(row: number, column: number, value: number): void;
  /** Adds `value` to the entry of C, which is multiplied by s = jω. */
  c(row: number, column: number, value: number): void;
  /** A constant on the right-hand side: supplies. */
  supply(row: number, value: number): void;
  /** Where the signal EMF (1 V) of a generator or head enters. */
  signal(row: number, value: number): void;
  /**
   * Asked for by the noise: thermal noise of a conductance (S) between two local nodes, at ambient or at
   * the temperature that is local unknown `at`; and of a resistance (Ω) in a branch, an EMF in its row.
   */
  thermal?(a: number, b: number, siemens: number, what: string, at?: number): void;
  seriesThermal?(row: number, ohms: number, what: string): void;
}

/** A noise current that a device makes. */
export interface DeviceNoise {
  /** Local unknowns between which it flows. */
  readonly from: number;
  readonly to: number;
  /** Density at high frequency, A²/Hz; it is white·(1 + corner/f). */
  readonly white: number;
  /** Corner of the low-frequency excess, Hz; 0 without. */
  readonly corner: number;
  /** In words: `collector current`. */
  readonly what: string;
}

/** Currents (or row sums) of a device and their derivatives, filled by `evaluate`. */
export interface Load {
  /** By local unknown. */
  readonly current: Float64Array;
  /** Row-major square: derivative of `current[row]` by the local unknown `column`. */
  readonly slope: Float64Array;
}

/** The nonlinear equations of one part. */
export interface Device {
  /** Number of local unknowns. */
  readonly size: number;
  /** Row-major square of 1 where `slope` may be other than 0. */
  readonly pattern: Uint8Array;
  /** Row-major square of 1 where a charge's derivative may be other than 0; all 0 without charges. */
  readonly chargePattern: Uint8Array;
  /** How many junction voltages the device tempers between Newton steps. */
  readonly junctions: number;
  /**
   * Currents at local unknowns `x`. With `memory` (one number a junction: the voltages last used), a
   * step too long for an exponential is shortened, the tangent there is used, and `memory` updated.
   * Returns whether the step was taken whole.
   */
  evaluate(x: Float64Array, load: Load, memory?: Float64Array): boolean;
  /** Writes the junction voltages at `x` to `memory`, as the point from which the next step starts. */
  remember(x: Float64Array, memory: Float64Array): void;
  /** Charges (in `current`) and their derivatives (in `slope`) at `x`, coulombs and farads. */
  charges(x: Float64Array, load: Load): void;
  /** Noise currents at `x`. */
  noise?(x: Float64Array): readonly DeviceNoise[];
}

/** What a device may ask of the run it is built for. */
export interface Surroundings {
  readonly circuit: Circuit;
  /** Ambient temperature, K. */
  readonly ambientKelvin: number;
}

/** Where a part's state is kept (in `Part.choices`) that it took of its own accord. */
export const FOUND = "found";

/**
 * What changes a part's state of its own accord: a contact worked by a speed. When `excess` rises above 0
 * the choice `FOUND` of the part becomes `value`, and its equations are those of the new state. An event of
 * the present state whose excess is above 0 already is due at once: at direct current such a state is none.
 */
export interface StateEvent {
  /** The choice of the part that changes, always `FOUND`. */
  readonly key: typeof FOUND;
  /** The state it is in. */
  readonly from: string;
  /** The state that follows. */
  readonly value: string;
  /** In words: `GV1 opens`. */
  readonly what: string;
  /** A smooth function of the local unknowns, in the order of `Stamp`. */
  excess(x: Float64Array): number;
}

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

/**
 * A resistor of `ohms` between local nodes `a` and `b`, with its thermal noise (named `what`) at ambient or
 * at the temperature that is local unknown `at`.
 */
export function resistance(
  into: Stamp,
  a: number,
  b: number,
  ohms: number,
  what = "resistance",
  at?: number,
): void {
  conductance(into, a, b, 1 / ohms, what, at);
}

/** A conductance in siemens between local nodes `a` and `b`; otherwise as `resistance`. */
export function conductance(
  into: Stamp,
  a: number,
  b: number,
  siemens: number,
  what = "resistance",
  at?: number,
): void {
  into.thermal?.(a, b, siemens, what, at);
  into.g(a, a, siemens);
  into.g(b, b, siemens);
  into.g(a, b, -siemens);
  into.g(b, a, -siemens);
}

/** A capacitor in farads between local nodes `a` and `b`. */
export function capacitance(into: Stamp, a: number, b: number, farads: number): void {
  into.c(a, a, farads);
  into.c(b, b, farads);
  into.c(a, b, -farads);
  into.c(b, a, -farads);
}

/**
 * The current `i` of a branch from `a` to `b`, and v_a − v_b − ohms·i = (what the caller adds).
 * Used wherever a resistance may be zero: the current then stays exact.
 */
export function branch(
  into: Stamp,
  a: number,
  b: number,
  i: number,
  ohms: number,
  what = "resistance",
): void {
  into.seriesThermal?.(i, ohms, what);
  into.g(a, i, 1);
  into.g(b, i, -1);
  into.g(i, a, 1);
  into.g(i, b, -1);
  into.g(i, i, -ohms);
}

/** The same branch cut open: its equation is i = 0, its entries are those of `branch`. */
export function openBranch(into: Stamp, a: number, b: number, i: number): void {
  into.g(a, i, 1);
  into.g(b, i, -1);
  into.g(i, a, 0);
  into.g(i, b, 0);
  into.g(i, i, -1);
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
