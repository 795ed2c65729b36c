import { type PartKind, resistance, value } from "./kind.ts";

export const resistor: PartKind = {
  keyword: "resistor",
  letters: "R",
  summary: "resistor",
  bare: [
    { key: "resistance", unit: "ohm", meaning: "resistance", plausible: [0.05, 30e6] },
    { key: "rating", unit: "watt", meaning: "rated dissipation", plausible: [0.02, 100], optional: true },
  ],
  connection: { form: "to", pins: [["1", "2"]] },
  tolerance: true,
  stamp: (part, into) => resistance(into, 0, 1, value(part, "resistance")),
  limits: ({ values: { rating } }) =>
    rating === undefined ? [] : [{ quantity: "watts", greatest: rating, meaning: "its rated dissipation" }],
  conducts: () => [[0, 1]],
};
