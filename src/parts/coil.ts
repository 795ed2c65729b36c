import type { Part } from "../circuit/circuit.ts";
import { branch, type Property, resistance, type Stamp } from "./kind.ts";

/** Words that inductor, head and transformer share. */
export const DCR: Property = {
  key: "dcr",
  unit: "ohm",
  meaning: "direct-current resistance of the winding",
  zero: true,
  default: 0,
  plausible: [1e-3, 20e3],
};

export const LOSS: Property = {
  key: "loss",
  unit: "ohm",
  meaning: "loss, as a resistor in parallel",
  plausible: [1, 100e6],
};

/** v_a − v_b = dcr·i + s·L·i, with branch current i. */
export function coil(into: Stamp, a: number, b: number, i: number, dcr: number, henries: number): void {
  branch(into, a, b, i, dcr, "dcr");
  into.c(i, i, -henries);
}

/** The parallel loss resistor, where the part has one. */
export function loss(into: Stamp, part: Part, a: number, b: number): void {
  const ohms = part.values.loss;
  if (ohms !== undefined) resistance(into, a, b, ohms, "loss");
}
