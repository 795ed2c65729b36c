import type { Part } from "../circuit/circuit.ts";
import { coil, DCR, LOSS, loss } from "./coil.ts";
import { type PartKind, resistance, value } from "./kind.ts";

/** Inductance at the core's setting, H: between the ends of its range, or the plain value. */
export function inductance(part: Part): number {
  const { setting, "setting.from": from, "setting.to": to } = part.values;
  if (setting === undefined || from === undefined || to === undefined) return value(part, "inductance");
  return from + setting * (to - from);
}

/** dcr in series with L; loss, or Q·2πf·L from a Q at a frequency, across the terminals. */
export const inductor: PartKind = {
  keyword: "inductor",
  letters: "L",
  summary: "coil, fixed or with an adjustable core",
  bare: [{ key: "inductance", unit: "henry", meaning: "inductance", plausible: [0.1e-6, 100] }],
  words: {
    dcr: DCR,
    loss: LOSS,
    q: {
      key: "q",
      unit: "number",
      meaning: "quality factor",
      plausible: [0.5, 1000],
      tails: [
        {
          word: "at",
          key: "q.at",
          unit: "hertz",
          meaning: "frequency at which Q was measured",
          plausible: [20, 50e6],
        },
      ],
    },
    setting: {
      key: "setting",
      unit: "percent",
      meaning: "setting of the core",
      zero: true,
      plausible: [0, 1],
      tails: [
        { word: "from", key: "setting.from", unit: "henry", meaning: "least inductance" },
        { word: "to", key: "setting.to", unit: "henry", meaning: "greatest inductance" },
      ],
    },
  },
  connection: { form: "to", pins: [["1", "2"]] },
  tolerance: true,
  unknowns: () => [{ kind: "branch", name: "current" }],
  stamp(part, into) {
    coil(into, 0, 1, 2, value(part, "dcr"), inductance(part));
    loss(into, part, 0, 1);
    const { q, "q.at": hertz } = part.values;
    if (q !== undefined && hertz !== undefined) {
      resistance(into, 0, 1, q * 2 * Math.PI * hertz * inductance(part), "loss");
    }
  },
  conducts: () => [[0, 1]],
  stiff: (part) => (part.values.dcr === 0 ? [[0, 1]] : []),
};
