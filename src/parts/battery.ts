import { branch, type PartKind, value } from "./kind.ts";

/** EMF in series with its internal resistance. */
export const battery: PartKind = {
  keyword: "battery",
  letters: "B",
  summary: "battery or other direct-current supply",
  bare: [{ key: "emf", unit: "volt", meaning: "EMF", zero: true, plausible: [0.5, 120] }],
  words: {
    internal: {
      key: "internal",
      unit: "ohm",
      meaning: "internal resistance",
      zero: true,
      default: 0,
      plausible: [1e-3, 1000],
    },
  },
  connection: { form: "labelled", pins: ["plus", "minus"] },
  unknowns: () => [{ kind: "branch", name: "current" }],
  stamp(part, into) {
    branch(into, 0, 1, 2, value(part, "internal"), "internal resistance");
    into.supply(2, value(part, "emf"));
  },
  conducts: () => [[0, 1]],
  stiff: (part) => (part.values.internal === 0 ? [[0, 1]] : []),
};
