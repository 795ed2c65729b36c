import type { Part } from "../circuit/circuit.ts";
import { REFERENCE_KELVIN, ZERO_CELSIUS } from "../devices/constants.ts";
import { thermalNoise } from "../devices/noise.ts";
import { type Device, type PartKind, resistance, type Surroundings, value } from "./kind.ts";

/** R(T) = R·exp(B·(1/T − 1/T_R)) in ohms, `part`'s R given at T_R (25 °C if not said). */
export function thermistorResistance(part: Part, kelvin: number): number {
  const given = value(part, "resistance.at") + ZERO_CELSIUS;
  return value(part, "resistance") * Math.exp(value(part, "bvalue") * (1 / kelvin - 1 / given));
}

/** A thermistor on the case of a transistor: its conductance follows that junction's temperature. */
function trackingDevice(part: Part, ambientKelvin: number): Device {
  const bvalue = value(part, "bvalue");
  // locals: pin 1, pin 2, temperature
  const pattern = Uint8Array.of(1, 1, 1, 1, 1, 1, 0, 0, 0);
  return {
    size: 3,
    pattern,
    chargePattern: new Uint8Array(9),
    junctions: 0,
    evaluate(x, { current, slope }) {
      const [a = 0, b = 0, kelvin = REFERENCE_KELVIN] = x;
      const g = 1 / thermistorResistance(part, kelvin);
      const i = g * (a - b);
      const byT = (i * bvalue) / (kelvin * kelvin);
      current[0] = i;
      current[1] = -i;
      current[2] = 0;
      slope.set([g, -g, byT, -g, g, -byT, 0, 0, 0]);
      return true;
    },
    noise(x) {
      const g = 1 / thermistorResistance(part, x[2] ?? REFERENCE_KELVIN);
      return [{ from: 0, to: 1, white: thermalNoise(g, ambientKelvin), corner: 0, what: "resistance" }];
    },
    remember() {},
    charges(_x, { current, slope }) {
      current.fill(0);
      slope.fill(0);
    },
  };
}

export const thermistor: PartKind = {
  keyword: "thermistor",
  letters: "TH",
  summary: "thermistor, negative temperature coefficient",
  bare: [
    {
      key: "resistance",
      unit: "ohm",
      meaning: "resistance at its reference temperature",
      plausible: [1, 1e6],
      tails: [
        {
          word: "at",
          key: "resistance.at",
          unit: "celsius",
          meaning: "reference temperature",
          signed: true,
          optional: true,
          default: 25,
          plausible: [-20, 100],
        },
      ],
    },
  ],
  words: {
    bvalue: {
      key: "bvalue",
      unit: "kelvin",
      meaning: "B value",
      zero: true,
      default: 3000,
      plausible: [1000, 6000],
    },
  },
  references: { tracks: { kind: "transistor", meaning: "transistor whose case it sits on" } },
  connection: { form: "to", pins: [["1", "2"]] },
  tolerance: true,
  unknowns(part) {
    const tracked = part.choices.tracks;
    return tracked === undefined ? [] : [{ kind: "temperature", of: tracked }];
  },
  stamp(part, into, { ambientKelvin }: Surroundings) {
    if (part.choices.tracks === undefined) resistance(into, 0, 1, thermistorResistance(part, ambientKelvin));
  },
  equations: (part, { ambientKelvin }) =>
    part.choices.tracks === undefined ? undefined : trackingDevice(part, ambientKelvin),
  conducts: () => [[0, 1]],
};
