import type { Circuit, Part } from "../../circuit/circuit.ts";

/**
 * What sixty years do to parts, as common practice has it (no source): electrolytics keep a third of their
 * capacitance and have ten times the series resistance and leakage; carbon resistors are 10 % up.
 */
const AGED = { capacitance: 1 / 3, esr: 10, leakage: 10, resistance: 1.1 } as const;

/** Resistors closer than this are film or wire and stay what they were. */
const CARBON = 0.05;

/** Fresh figures where the netlist gives none; common practice, no source. */
const LOSS_FACTOR = 0.2;
const LOSS_HERTZ = 100;
/** Leakage per farad and volt of rating, A: 0.01 µA per µF and V. */
const LEAKAGE = 0.01;
const RATED = 10;

const freshEsr = (farads: number): number => LOSS_FACTOR / (2 * Math.PI * LOSS_HERTZ * farads);

function agedElectrolytic({ values }: Part): Part["values"] {
  const { capacitance = 0, rated = RATED } = values;
  const esr = values.esr ?? freshEsr(capacitance);
  const leakage = values.leakage ?? LEAKAGE * capacitance * rated;
  return {
    ...values,
    capacitance: capacitance * AGED.capacitance,
    esr: esr * AGED.esr,
    leakage: leakage * AGED.leakage,
  };
}

const isCarbon = ({ kind, tolerance }: Part): boolean =>
  kind === "resistor" && (tolerance === undefined || Math.max(-tolerance.low, tolerance.high) >= CARBON);

function agedPart(part: Part): Part {
  if (part.kind === "electrolytic") return { ...part, values: agedElectrolytic(part) };
  if (!isCarbon(part)) return part;
  return { ...part, values: { ...part.values, resistance: (part.values.resistance ?? 0) * AGED.resistance } };
}

/** The circuit with its electrolytics and carbon resistors aged. */
export const aged = (circuit: Circuit): Circuit => ({ ...circuit, parts: circuit.parts.map(agedPart) });
