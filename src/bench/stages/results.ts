/** What the question `stages` answers, as plain data: SI units, named in the key; magnitudes at 1 kHz. */

export type Configuration =
  | "common emitter"
  | "degenerated common emitter"
  | "emitter follower"
  | "common base"
  | "push-pull half"
  | "oscillator"
  | "supply filter"
  | "series regulator"
  | "current source"
  | "diode-connected"
  | "cut off"
  | "saturated"
  | "reverse";

/** A resistance that the gain hangs on: that of parts, or what the solution finds at a pin. */
export interface Resistance {
  /** In the formula: `R7`, `R′`, `r_e`. */
  readonly symbol: string;
  readonly ohms: number;
  /** In words: `collector resistor`. */
  readonly meaning: string;
}

/** The gain as one would reckon it on paper. */
export interface HandGain {
  readonly formula: string;
  readonly resistances: readonly Resistance[];
  /** V/V from the pin the signal enters to the pin it leaves; negative where it inverts. */
  readonly gain: number;
}

/** A closed way of signals, back from one stage to itself or to one before it. */
export interface FeedbackLoop {
  /** The transistor whose current returns; both halves of a push-pull stage. */
  readonly from: readonly string[];
  /** The transistor it returns to. */
  readonly to: readonly string[];
  /** All transistors that the loop needs. */
  readonly through: readonly string[];
  /** The parts that close it for direct current, and for signals. */
  readonly dc_parts: readonly string[];
  readonly ac_parts: readonly string[];
  /** Return ratio at direct current and at 1 kHz, magnitude; negative where it is in phase: regeneration. */
  readonly dc_loop_gain: number;
  readonly ac_loop_gain: number;
  readonly greatest_loop_gain: number;
  readonly greatest_hertz: number;
  /** Where the loop gain is 1 with the least phase margin; absent where it never is. */
  readonly crossover_hertz?: number;
  readonly phase_margin_degrees?: number;
}

export interface OscillatorLoop {
  /** Where the return ratio is real and farthest below −1; 0 for one that does not swing but tips over. */
  readonly hertz: number;
  /** How many times more than needed, at small signals. */
  readonly loop_gain: number;
}

export interface StageReading {
  readonly transistor: string;
  readonly configuration: Configuration;
  /** What it was found by, in a phrase. */
  readonly because: string;
  /** The other half, of a push-pull half. */
  readonly partner?: string;
  readonly gm_siemens: number;
  /** Absent in a transistor that conducts next to nothing. */
  readonly re_ohms?: number;
  readonly resistances: readonly Resistance[];
  readonly hand_formula?: string;
  readonly hand_gain?: number;
  readonly solved_gain?: number;
  /** Where the two differ by more than a fifth: why. */
  readonly difference?: string;
  /** Into the pin the signal enters, and out of the pin it leaves, the transistor alone. */
  readonly input_ohms?: number;
  readonly output_ohms?: number;
  /** The same with all that is connected to these pins. */
  readonly input_net_ohms?: number;
  readonly output_net_ohms?: number;
  readonly oscillation?: OscillatorLoop;
  readonly dc_feedback: readonly string[];
  readonly ac_feedback: readonly string[];
}

/** One sample of a pair's quiescent currents, A; absent where there is no operating point. */
export interface QuiescentPoint {
  /** What was changed: ambient in °C, hfe of the first half as a share of its type's, its V_BE by so many V. */
  readonly at: number;
  readonly amps?: readonly [first: number, second: number];
  /** Why there are none. */
  readonly failure?: "thermal runaway" | "not converged" | "no solution";
}

export interface QuiescentCurrents {
  readonly pair: readonly [first: string, second: string];
  readonly ambient_celsius: readonly QuiescentPoint[];
  readonly hfe_share: readonly QuiescentPoint[];
  readonly vbe_shift_volts: readonly QuiescentPoint[];
}

export interface StagesResult {
  readonly mode: string;
  readonly stages: readonly StageReading[];
  readonly loops: readonly FeedbackLoop[];
  readonly push_pull: readonly QuiescentCurrents[];
}
