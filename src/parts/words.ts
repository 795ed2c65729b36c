/** The words of a kind of part: its pins, properties and units, as the language reads them. */
import type { Circuit, Part } from "../circuit/circuit.ts";

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
