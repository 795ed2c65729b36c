import { type PartKind, ratedVolts, resistance, value } from "./kind.ts";

/** Rated voltage over rated current: its resistance when lit. */
export const lamp: PartKind = {
  keyword: "lamp",
  letters: "LA",
  summary: "filament lamp",
  bare: [
    { key: "rated", unit: "volt", meaning: "rated voltage", plausible: [0.5, 250] },
    { key: "current", unit: "ampere", meaning: "rated current", plausible: [0.01, 5] },
  ],
  connection: { form: "to", pins: [["1", "2"]] },
  stamp: (part, into) => resistance(into, 0, 1, value(part, "rated") / value(part, "current")),
  limits: ratedVolts,
  conducts: () => [[0, 1]],
};
