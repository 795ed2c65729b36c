import { type PartKind, resistance, value } from "./kind.ts";
import { LAWS, potentiometer, SETTING, TRACK, wiperShare } from "./potentiometer.ts";

/** A preset: two points make it a variable resistor of setting × value, three a potentiometer. */
export const trimmer: PartKind = {
  keyword: "trimmer",
  letters: "P",
  summary: "preset resistor or potentiometer",
  bare: [TRACK],
  words: { setting: SETTING },
  choices: { law: LAWS },
  connection: {
    form: "to",
    pins: [
      ["1", "2"],
      ["1", "wiper", "2"],
    ],
  },
  tolerance: true,
  stamp(part, into, surroundings) {
    if (part.pins.length === 3) potentiometer.stamp?.(part, into, surroundings);
    else resistance(into, 0, 1, value(part, "resistance") * wiperShare(part));
  },
  conducts: (part) =>
    part.pins.length === 3
      ? [
          [0, 1],
          [1, 2],
        ]
      : [[0, 1]],
};
