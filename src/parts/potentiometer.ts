import type { Part } from "../circuit/circuit.ts";
import { type PartKind, type Property, resistance, value } from "./kind.ts";

/** No section of a track is shorter than this share of it: the wiper has a width and the ends a resistance. */
const LEAST_SECTION = 1e-4;

/** A logarithmic track has a tenth of its resistance at half a turn: (81^½ − 1)/80 = 0.1. */
const LOG_BASE = 81;

export const SETTING: Property = {
  key: "setting",
  unit: "percent",
  meaning: "turn of the shaft from the end named first",
  zero: true,
  default: 0.5,
  plausible: [0, 1],
};

export const TRACK: Property = {
  key: "resistance",
  unit: "ohm",
  meaning: "resistance of the track",
  plausible: [1, 30e6],
};

export const LAWS = ["linear", "log", "antilog"] as const;

/** Share of the track between the first end and the wiper at turn `x` (0 … 1), by its law. */
export function trackLaw(law: string, x: number): number {
  const log = (turn: number) => (LOG_BASE ** turn - 1) / (LOG_BASE - 1);
  if (law === "log") return log(x);
  if (law === "antilog") return 1 - log(1 - x);
  return x;
}

const held = (share: number) => Math.min(1 - LEAST_SECTION, Math.max(LEAST_SECTION, share));

/** Share of the track between first end and wiper for this part's law and setting, ends held off. */
export const wiperShare = (part: Part): number =>
  held(trackLaw(part.choices.law ?? "linear", value(part, "setting")));

export const potentiometer: PartKind = {
  keyword: "potentiometer",
  letters: "P",
  summary: "potentiometer with a shaft",
  bare: [TRACK],
  words: { setting: SETTING },
  choices: { law: LAWS },
  connection: { form: "to", pins: [["1", "wiper", "2"]] },
  tolerance: true,
  stamp(part, into) {
    const share = wiperShare(part);
    const track = value(part, "resistance");
    resistance(into, 0, 1, track * share);
    resistance(into, 1, 2, track * (1 - share));
  },
  conducts: () => [
    [0, 1],
    [1, 2],
  ],
};
