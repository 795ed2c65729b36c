/**
 * Results as plain data, in the words of the machine-readable output (docs/json.md): SI units, named in
 * the key. Nothing is rounded here.
 */

export type Region = "active" | "saturated" | "cut off" | "reverse";

export interface NetVoltage {
  readonly volts: number;
  readonly points: readonly string[];
  /** What a meter of the kind asked for would show. */
  readonly reading_volts?: number;
  /** Nothing but capacitors and open contacts holds the net in this mode: it counts 0 V. */
  readonly floating?: true;
}

/** Currents are those into the pin; voltages carry their natural sign (negative in a conducting PNP). */
export interface TransistorReading {
  readonly type: string;
  readonly e_volts: number;
  readonly b_volts: number;
  readonly c_volts: number;
  readonly ie_amps: number;
  readonly ib_amps: number;
  readonly ic_amps: number;
  readonly vbe_volts: number;
  readonly vce_volts: number;
  readonly gm_siemens: number;
  readonly junction_celsius: number;
  readonly dissipation_watts: number;
  readonly region: Region;
}

/** From first pin to last; for the windings of a transformer and the poles of a switch, each of its own. */
export interface PartReading {
  readonly volts: number;
  readonly amps: number;
  readonly watts: number;
}

/** A motor; current and voltage from plus to minus, speed and torque in the direction these make. */
export interface MotorReading {
  readonly rpm: number;
  readonly amps: number;
  readonly volts: number;
  /** What the current exerts. */
  readonly torque_newton_metres: number;
  /** The current's torque does not overcome drag and load. */
  readonly stalled: boolean;
}

export interface GovernorReading {
  /** The motor whose speed works it. */
  readonly motor: string;
  /** `hunting`: the speed with the contact closed opens it, and that with it open closes it. */
  readonly state: "open" | "closed" | "hunting";
  /** A mode says the state, whatever the speed. */
  readonly held?: true;
  /** Of a hunting one, the speeds it would settle at. */
  readonly closed_rpm?: number;
  readonly open_rpm?: number;
}

/** One mode's voltage chart. Keys of `nets` are the shown names. */
export interface VoltageChart {
  readonly mode: string;
  readonly ambient_celsius: number;
  /** Largest Kirchhoff residual of any net, A. */
  readonly residual_amps: number;
  readonly nets: Readonly<Record<string, NetVoltage>>;
  readonly transistors: Readonly<Record<string, TransistorReading>>;
  readonly parts: Readonly<Record<string, PartReading>>;
  /** Where the circuit has any. */
  readonly motors?: Readonly<Record<string, MotorReading>>;
  readonly governors?: Readonly<Record<string, GovernorReading>>;
}

/** One path in one mode, against frequency. Gain is output over EMF (V/V, or A/V for a current). */
export interface PathResponse {
  readonly path: string;
  readonly mode: string;
  readonly from: string;
  readonly to: string;
  readonly quantity: "voltage" | "current";
  readonly hertz: readonly number[];
  readonly gain_db: readonly number[];
  readonly phase_degrees: readonly number[];
  readonly real: readonly number[];
  readonly imag: readonly number[];
}

/** Why there is no solution: a sentence, and the part or net it hangs at. */
export interface Failure {
  readonly kind: "thermal runaway" | "not converged" | "no solution";
  readonly mode: string;
  readonly message: string;
  readonly hint?: string;
  readonly part?: string;
  readonly net?: string;
}
