import { capacitance, type PartKind, ratedVolts, value } from "./kind.ts";

export const capacitor: PartKind = {
  keyword: "capacitor",
  letters: "C",
  summary: "capacitor without polarity",
  bare: [
    { key: "capacitance", unit: "farad", meaning: "capacitance", plausible: [0.2e-12, 100e-6] },
    { key: "rated", unit: "volt", meaning: "rated voltage", plausible: [1, 5000], optional: true },
  ],
  connection: { form: "to", pins: [["1", "2"]] },
  tolerance: true,
  limits: ratedVolts,
  stamp: (part, into) => capacitance(into, 0, 1, value(part, "capacitance")),
};
