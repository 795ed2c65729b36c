import { coil, DCR, LOSS, loss } from "./coil.ts";
import { capacitance, type PartKind, type Property, value } from "./kind.ts";

/** Lengths that say what the head loses of a tape; they take part in no equation of the circuit. */
const length = (key: string, meaning: string, plausible: readonly [number, number]): Property => ({
  key,
  unit: "metre",
  meaning,
  plausible,
});

/** dcr in series with the inductance and, on playback, an EMF; capacitance and loss across the terminals. */
export const head: PartKind = {
  keyword: "head",
  letters: "K",
  summary: "tape head",
  bare: [{ key: "inductance", unit: "henry", meaning: "inductance", plausible: [1e-6, 10] }],
  words: {
    dcr: DCR,
    capacitance: {
      key: "capacitance",
      unit: "farad",
      meaning: "capacitance of winding and lead",
      zero: true,
      plausible: [1e-12, 1e-7],
    },
    loss: LOSS,
    gap: length("gap", "effective length of the gap", [2e-7, 1e-3]),
    spacing: length("spacing", "distance of the tape from the head", [1e-8, 1e-4]),
    coating: length("coating", "thickness of the tape's magnetic coating", [5e-7, 1e-4]),
  },
  connection: { form: "to", pins: [["1", "2"]] },
  tolerance: true,
  source: true,
  unknowns: () => [{ kind: "branch", name: "current" }],
  stamp(part, into) {
    coil(into, 0, 1, 2, value(part, "dcr"), value(part, "inductance"));
    into.signal(2, 1);
    const farads = part.values.capacitance;
    if (farads !== undefined) capacitance(into, 0, 1, farads);
    loss(into, part, 0, 1);
  },
  conducts: () => [[0, 1]],
  stiff: (part) => (part.values.dcr === 0 ? [[0, 1]] : []),
};
