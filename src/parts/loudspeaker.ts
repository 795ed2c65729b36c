import type { Part } from "../circuit/circuit.ts";
import { coil } from "./coil.ts";
import { capacitance, type PartKind, resistance, value } from "./kind.ts";

const resonates = (part: Part) => part.values.fs !== undefined;
const hasVoiceCoil = (part: Part) =>
  part.values.re !== undefined || part.values.le !== undefined || resonates(part);

/** Resistance of the voice coil, Ω: as given, else the nominal impedance. */
const voiceCoil = (part: Part) => part.values.re ?? value(part, "impedance");

/**
 * With a nominal impedance alone, that resistance. With re and le, these in series; with fs as well,
 * in series with the cone's resonance: R = re·qms/qes, C = qes/(2π·fs·re), L = re/(2π·fs·qes) in parallel.
 */
export const loudspeaker: PartKind = {
  keyword: "loudspeaker",
  letters: "LS",
  summary: "loudspeaker or earphone",
  bare: [{ key: "impedance", unit: "ohm", meaning: "nominal impedance", plausible: [1, 5000] }],
  words: {
    re: { key: "re", unit: "ohm", meaning: "resistance of the voice coil", plausible: [0.5, 5000] },
    le: {
      key: "le",
      unit: "henry",
      meaning: "inductance of the voice coil",
      zero: true,
      plausible: [1e-6, 1],
    },
    fs: { key: "fs", unit: "hertz", meaning: "resonance of the cone", plausible: [15, 5000] },
    qms: { key: "qms", unit: "number", meaning: "mechanical Q at resonance", plausible: [0.1, 50] },
    qes: { key: "qes", unit: "number", meaning: "electrical Q at resonance", plausible: [0.05, 50] },
  },
  connection: { form: "to", pins: [["1", "2"]] },
  check(part) {
    const { fs, qms, qes } = part.values;
    if (fs === undefined && qms === undefined && qes === undefined) return [];
    if (fs !== undefined && qms !== undefined && qes !== undefined) return [];
    return [{ message: `${part.name}: the cone's resonance needs fs, qms and qes together` }];
  },
  unknowns(part) {
    if (!hasVoiceCoil(part)) return [];
    const coilCurrent = { kind: "branch", name: "current" } as const;
    if (!resonates(part)) return [coilCurrent];
    return [coilCurrent, { kind: "node", name: "cone" }, { kind: "branch", name: "compliance" }];
  },
  stamp(part, into) {
    if (!hasVoiceCoil(part)) return resistance(into, 0, 1, value(part, "impedance"));
    const cone = resonates(part) ? 3 : 1;
    coil(into, 0, cone, 2, voiceCoil(part), part.values.le ?? 0);
    if (!resonates(part)) return;
    const re = voiceCoil(part);
    const qes = value(part, "qes");
    const omega = 2 * Math.PI * value(part, "fs");
    resistance(into, cone, 1, (re * value(part, "qms")) / qes, "cone");
    capacitance(into, cone, 1, qes / (omega * re));
    coil(into, cone, 1, 4, 0, re / (omega * qes));
  },
  conducts: () => [[0, 1]],
};
