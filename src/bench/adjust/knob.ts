import type { Circuit, Part } from "../../circuit/circuit.ts";
import { DEFAULT_HFE } from "../../devices/transistor-parameters.ts";
import { kindOf } from "../../parts/index.ts";
import type { Property, Unit } from "../../parts/kind.ts";

/** What is turned: a setting, over its range, or a value, over decades. */
export interface Knob {
  readonly part: string;
  readonly key: string;
  readonly unit: Unit;
  readonly low: number;
  readonly high: number;
  readonly scale: "linear" | "logarithmic";
  /** Where the netlist has it; undefined if it has none. */
  readonly present: number | undefined;
}

/** Values are looked for from a hundredth to a hundredfold of the present one. */
const DECADES = 100;
/** Batteries from nearly nothing to twice their EMF. */
const BATTERY = [0.05, 2] as const;

const properties = (part: Part): Readonly<Record<string, Property>> => {
  const { bare = [], words = {} } = kindOf(part);
  return { ...Object.fromEntries(bare.map((each) => [each.key, each])), ...words };
};

/** Names of what can be turned on a part, the usual one first. */
export function knobsOf(part: Part): readonly string[] {
  if (part.kind === "transistor") return ["hfe", "leakage"];
  const all = Object.keys(properties(part)).filter((key) => key !== "rated" && key !== "rating");
  if (part.values.setting === undefined) return all.filter((key) => key !== "setting");
  return ["setting", ...all.filter((key) => key !== "setting")];
}

/** What of a part is turned if nothing is said: not the contacts of a switch. */
const usual = (part: Part): string | undefined =>
  part.positions === undefined ? knobsOf(part)[0] : undefined;

/** The knob `key` (the usual one if not given) of a part; undefined if it has no such thing. */
export function knobOf(part: Part, circuit: Circuit, key = usual(part)): Knob | undefined {
  if (key === undefined || !knobsOf(part).includes(key)) return undefined;
  if (part.kind === "transistor") return sampleKnob(part, circuit, key);
  const { unit, plausible } = properties(part)[key]!;
  const present = part.values[key];
  const base = { part: part.name, key, unit, present };
  if (key === "setting") return { ...base, low: 0, high: 1, scale: "linear" };
  if (key === "emf") {
    const volts = present === undefined || present === 0 ? 10 : present;
    return { ...base, low: BATTERY[0] * volts, high: BATTERY[1] * volts, scale: "linear" };
  }
  if (present !== undefined && present > 0) return decades(base, present);
  const [low, high] = plausible ?? [1e-3, 1e3];
  return { ...base, low: Math.max(low, 1e-15), high, scale: "logarithmic" };
}

const decades = (base: Pick<Knob, "part" | "key" | "unit" | "present">, about: number): Knob => ({
  ...base,
  low: about / DECADES,
  high: about * DECADES,
  scale: "logarithmic",
});

/** The sample itself as what is sought: which hfe or leakage explains a reading. */
function sampleKnob(part: Part, circuit: Circuit, key: string): Knob {
  const { hfe = DEFAULT_HFE, leakage = 4e-6 } = circuit.types[part.type ?? ""]?.figures ?? {};
  if (key === "leakage") return decades({ part: part.name, key, unit: "ampere", present: leakage }, leakage);
  return {
    part: part.name,
    key,
    unit: "number",
    present: hfe,
    low: hfe / 10,
    high: hfe * 10,
    scale: "logarithmic",
  };
}

/** The value at `x` from 0 (low) to 1 (high). */
export const valueAt = ({ low, high, scale }: Knob, x: number): number =>
  scale === "linear" ? low + x * (high - low) : x === 1 ? high : low * (high / low) ** x;

/** Where a value lies between low (0) and high (1). */
export const placeOf = ({ low, high, scale }: Knob, value: number): number =>
  scale === "linear" ? (value - low) / (high - low) : Math.log(value / low) / Math.log(high / low);
