import type { Part } from "../circuit/circuit.ts";
import { branch, openBranch, type PartKind, value } from "./kind.ts";

const isOff = (part: Part) => part.choices.power === "off";

/** EMF in series with its internal resistance; switched off, an open branch in the same structure. */
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
  choices: { power: ["on", "off"] },
  connection: { form: "labelled", pins: ["plus", "minus"] },
  unknowns: () => [{ kind: "branch", name: "current" }],
  stamp(part, into) {
    if (isOff(part)) {
      openBranch(into, 0, 1, 2);
      into.supply(2, 0);
      return;
    }
    branch(into, 0, 1, 2, value(part, "internal"), "internal resistance");
    into.supply(2, value(part, "emf"));
  },
  conducts: (part) => (isOff(part) ? [] : [[0, 1]]),
  stiff: (part) => (part.values.internal === 0 && !isOff(part) ? [[0, 1]] : []),
};
