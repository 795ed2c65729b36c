/** The equations of a kind of part: what it stamps, and what a nonlinear one computes. */
import type { Circuit } from "../circuit/circuit.ts";

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

/** Pairs of local unknowns, a law bending with their difference, or with the first where the second is −1. */
export type Bends = readonly (readonly [number, number])[];

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
  /** Between which local unknowns its laws bend. Without, it is taken to bend with every one of its unknowns. */
  readonly bends?: Bends;
  /**
   * How sharply they bend at `x`, per volt and pair: a junction a small v further on is v²·bend off its tangent,
   * in volts. Called right after `evaluate` and `charges` at the same place. Without, it is taken to bend soon.
   */
  bend?(x: Float64Array, perVolt: Float64Array): void;
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
