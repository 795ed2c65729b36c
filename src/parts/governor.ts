import type { Part } from "../circuit/circuit.ts";
import { type Contradiction, FOUND, type PartKind, type StateEvent, value } from "./kind.ts";
import { RPM } from "./motor.ts";

/** Whether the contact makes: as a mode holds it, else as the speed has put it; at rest if nothing is known. */
export function isClosed(part: Part): boolean {
  const state = part.choices.state ?? part.choices[FOUND];
  const { opens = 0, closes = 0 } = part.values;
  return state === undefined ? opens > closes : state === "closed";
}

// locals: pin 1, pin 2, contact current, speed
const CURRENT = 2;
const SPEED = 3;

/** A contact that opens above one speed closes below the other; one that closes above opens below. */
function nextEvent(part: Part): StateEvent {
  const closed = isClosed(part);
  const threshold = RPM * value(part, closed ? "opens" : "closes");
  const upward = value(part, "opens") > value(part, "closes") === closed;
  return {
    key: FOUND,
    from: closed ? "closed" : "open",
    value: closed ? "open" : "closed",
    what: `${part.name} ${closed ? "opens" : "closes"}`,
    // the same contact works at either direction of rotation
    excess: (x) => (upward ? 1 : -1) * (Math.abs(x[SPEED]!) - threshold),
  };
}

function missing(part: Part): Contradiction[] {
  const { opens, closes } = part.values;
  if (part.choices.of === undefined) {
    return [{ message: `${part.name} does not say which motor turns it`, hint: `add "of M1"` }];
  }
  if (opens === undefined || closes === undefined) {
    const word = opens === undefined ? "opens" : "closes";
    return [
      { message: `${part.name} does not say at which speed it ${word}`, hint: `add "${word} 2400 rpm"` },
    ];
  }
  if (opens !== closes) return [];
  return [
    {
      message: `${part.name} opens and closes at the same speed: it would never come to rest`,
      hint: "a contact that opens at 2400 rpm closes again a little below, at 2380 rpm say",
      key: "closes",
    },
  ];
}

/** A closed contact is a branch of a few milliohms, an open one the same branch with the equation i = 0. */
export const governor: PartKind = {
  keyword: "governor",
  letters: "GV",
  summary: "contact worked by the speed of a motor",
  words: {
    opens: {
      key: "opens",
      unit: "rpm",
      meaning: "speed at which the contact opens: rising if above `closes`, else falling",
      plausible: [100, 20e3],
    },
    closes: {
      key: "closes",
      unit: "rpm",
      meaning: "speed at which the contact closes",
      plausible: [100, 20e3],
    },
    contact: {
      key: "contact",
      unit: "ohm",
      meaning: "resistance of the closed contact",
      zero: true,
      default: 0.02,
      plausible: [1e-3, 100],
    },
  },
  states: ["open", "closed"],
  references: { of: { kind: "motor", meaning: "motor that turns it" } },
  connection: { form: "to", pins: [["1", "2"]] },
  check: missing,
  unknowns: (part) => [
    { kind: "branch", name: "contact" },
    { kind: "speed", of: part.choices.of ?? "" },
  ],
  stamp(part, into) {
    const closed = isClosed(part);
    if (closed) into.seriesThermal?.(CURRENT, value(part, "contact"), "contact");
    into.g(0, CURRENT, 1);
    into.g(1, CURRENT, -1);
    into.g(CURRENT, 0, closed ? 1 : 0);
    into.g(CURRENT, 1, closed ? -1 : 0);
    into.g(CURRENT, CURRENT, closed ? -value(part, "contact") : -1);
  },
  events: (part) => (part.choices.state === undefined ? [nextEvent(part)] : []),
  conducts: (part) => (isClosed(part) ? [[0, 1]] : []),
  stiff: (part) => (isClosed(part) && part.values.contact === 0 ? [[0, 1]] : []),
};
