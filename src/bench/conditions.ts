import type { PartState } from "../circuit/circuit.ts";

/** What a run changes of the netlist; common to all questions. */
export interface Conditions {
  /** Names of modes to look at; all if not given. */
  readonly modes?: readonly string[];
  /** Settings, values and switch positions, over those of the mode. */
  readonly set?: readonly PartState[];
  /** Ambient temperature; the netlist's own if not given. */
  readonly ambientCelsius?: number;
  /** Junctions held at ambient. */
  readonly isothermal?: boolean;
}

/** A voltmeter: so many ohms per volt of its range, or a fixed resistance. */
export type Meter = { readonly ohmsPerVolt: number } | { readonly ohms: number };
