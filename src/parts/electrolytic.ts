import type { Part } from "../circuit/circuit.ts";
import { capacitance, conductance, type PartKind, ratedVolts, resistance, value } from "./kind.ts";

/** The voltage that a leakage current is taken to be measured at where the part has no rating. */
const DEFAULT_RATED = 10;

/** A few tenths of a volt the wrong way do no harm that a meter would show. */
const LEAST_VOLTS = -0.1;

const hasEsr = (part: Part) => (part.values.esr ?? 0) > 0;
const leaks = (part: Part) => (part.values.leakage ?? 0) > 0;

/** C in series with esr; leakage as a resistor across the whole. */
export const electrolytic: PartKind = {
  keyword: "electrolytic",
  letters: "C",
  summary: "electrolytic capacitor",
  bare: [
    { key: "capacitance", unit: "farad", meaning: "capacitance", plausible: [0.1e-6, 0.1] },
    { key: "rated", unit: "volt", meaning: "rated voltage", plausible: [1, 500], optional: true },
  ],
  words: {
    esr: { key: "esr", unit: "ohm", meaning: "series resistance", zero: true, plausible: [1e-3, 1000] },
    leakage: {
      key: "leakage",
      unit: "ampere",
      meaning: "leakage current at the rated voltage",
      zero: true,
      plausible: [1e-9, 0.01],
    },
  },
  connection: { form: "labelled", pins: ["plus", "minus"] },
  tolerance: true,
  unknowns: (part) => (hasEsr(part) ? [{ kind: "node", name: "foil" }] : []),
  stamp(part, into) {
    const foil = hasEsr(part) ? 2 : 0;
    capacitance(into, foil, 1, value(part, "capacitance"));
    if (hasEsr(part)) resistance(into, 0, foil, value(part, "esr"), "esr");
    if (leaks(part))
      conductance(into, 0, 1, value(part, "leakage") / (part.values.rated ?? DEFAULT_RATED), "leakage");
  },
  limits: (part) => [
    { quantity: "volts", least: LEAST_VOLTS, meaning: "the right polarity" },
    ...ratedVolts(part).map(({ quantity, greatest = 0, meaning }) => ({ quantity, greatest, meaning })),
  ],
  conducts: (part) => (leaks(part) ? [[0, 1]] : []),
};
