import { branch, type PartKind, value } from "./kind.ts";

/** Signal EMF in series with its source resistance; 0 V at direct current. */
export const generator: PartKind = {
  keyword: "generator",
  letters: "G",
  summary: "signal generator, microphone or line input",
  bare: [{ key: "emf", unit: "volt", meaning: "EMF, rms", zero: true, plausible: [1e-6, 100] }],
  words: {
    source: {
      key: "source",
      unit: "ohm",
      meaning: "source resistance",
      zero: true,
      default: 0,
      plausible: [0.1, 10e6],
    },
  },
  connection: { form: "to", pins: [["1", "2"]] },
  source: true,
  unknowns: () => [{ kind: "branch", name: "current" }],
  stamp(part, into) {
    branch(into, 0, 1, 2, value(part, "source"), "source resistance");
    into.signal(2, 1);
  },
  conducts: () => [[0, 1]],
  stiff: (part) => (part.values.source === 0 ? [[0, 1]] : []),
};
