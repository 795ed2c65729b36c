import { type PartKind, resistance, value } from "./kind.ts";

export const meter: PartKind = {
  keyword: "meter",
  letters: "M",
  summary: "panel meter",
  bare: [{ key: "resistance", unit: "ohm", meaning: "resistance of the movement", plausible: [1, 100e3] }],
  words: {
    full: { key: "full", unit: "ampere", meaning: "current for full deflection", plausible: [1e-6, 1] },
  },
  connection: { form: "labelled", pins: ["plus", "minus"] },
  tolerance: true,
  stamp: (part, into) => resistance(into, 0, 1, value(part, "resistance")),
  limits: ({ values: { full } }) =>
    full === undefined
      ? []
      : [{ quantity: "amps", least: -full, greatest: full, meaning: "full deflection" }],
  conducts: () => [[0, 1]],
};
