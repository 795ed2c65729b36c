import type { Circuit, Part } from "../../circuit/circuit.ts";
import { inMode, modesOf } from "../../circuit/conditions.ts";
import { positionOf } from "../../parts/switch.ts";
import { type Bench, type Draft, graded, simple } from "./draft.ts";
import type { Changes } from "./rig.ts";

const OPEN = 3e7;
/** Resistances of a bad contact or of a worn wiper, Ω. */
const BAD_CONTACT = [15, 180, 2.2e3, 22e3, 220e3];
/** How far tracks drift. */
const TRACK_UP = [1.5, 2.5, 5];
/** What shorted turns leave of a coil's inductance. */
const SHORTED = 0.03;

/** What coils, switches and potentiometers may have. */
export function woundAndContactFaults(part: Part, bench: Bench): readonly Draft[] {
  switch (part.kind) {
    case "inductor":
      return coilFaults(part, "inductor");
    case "head":
      return coilFaults(part, "head");
    case "loudspeaker":
      return loudspeakerFaults(part, bench);
    case "transformer":
      return transformerFaults(part, bench);
    case "switch":
      return switchFaults(part, bench);
    case "governor":
      return governorFaults(part, bench);
    case "potentiometer":
      return trackFaults(part, "potentiometer", bench);
    case "trimmer":
      return trackFaults(part, "trimmer", bench);
    default:
      return [];
  }
}

/** Shorted turns are a shorted winding closely coupled: little inductance and half the resistance are left. */
function coilFaults(part: Part, kind: "inductor" | "head"): readonly Draft[] {
  const { inductance = 0, dcr = 0 } = part.values;
  const keys = ["setting.from", "setting.to"].filter((key) => part.values[key] !== undefined);
  const ends = Object.fromEntries(keys.map((key) => [key, part.values[key]! * SHORTED]));
  return [
    simple(`${kind}: open`, "open", { [part.name]: { dcr: OPEN } }),
    simple(`${kind}: shorted turns`, "shorted turns", {
      [part.name]: { inductance: inductance * SHORTED, dcr: dcr / 2, ...ends },
    }),
  ];
}

function loudspeakerFaults(part: Part, { rig }: Bench): readonly Draft[] {
  const [a, b] = [part.pins[0]!.net, part.pins[1]!.net];
  const { re, le, fs } = part.values;
  const coil = re !== undefined || le !== undefined || fs !== undefined;
  return [
    simple("loudspeaker: open", "open", { [part.name]: coil ? { re: OPEN } : { impedance: OPEN } }),
    ...(rig.hasBridge(a, b) ? [simple("loudspeaker: short", "short", rig.bridge(a, b))] : []),
  ];
}

function transformerFaults(part: Part, { rig }: Bench): readonly Draft[] {
  const { windings = [], pins } = part;
  const opens = windings.flatMap((winding) => {
    const ends = winding.pins.length > 2 ? winding.pins : winding.pins.slice(0, 1);
    return ends.map((pin) => {
      const where = winding.pins.length > 2 ? ` at .${pins[pin]!.name.split(".").at(-1)}` : "";
      const changes = rig.lead(`${part.name}.${pins[pin]!.name}`);
      return {
        ...simple("transformer: winding open", `winding ${winding.name} open${where}`, changes),
        part: 1 / ends.length,
      };
    });
  });
  const shorted = windings.flatMap((winding): Draft[] => {
    const [a, b] = [pins[winding.pins[0]!]!.net, pins[winding.pins[1]!]!.net];
    if (!rig.hasBridge(a, b)) return [];
    return [
      simple(
        "transformer: shorted turns",
        `winding ${winding.name} has shorted turns`,
        rig.bridge(a, b, 1 + winding.dcr / 2),
      ),
    ];
  });
  const touching = windings.slice(1).flatMap((winding, k): Draft[] => {
    const before = windings[k]!;
    const [a, b] = [pins[before.pins.at(-1)!]!.net, pins[winding.pins[0]!]!.net];
    if (!rig.hasBridge(a, b)) return [];
    return [
      simple(
        "transformer: windings touch",
        `windings ${before.name} and ${winding.name} touch`,
        rig.bridge(a, b),
      ),
    ];
  });
  return [...opens, ...shorted, ...touching];
}

/** Dirt lies under the slide, or on the contact of one position only; a burr or solder keeps a contact closed. */
function switchFaults(part: Part, { rig, circuit }: Bench): readonly Draft[] {
  const used = positionsUsed(part, circuit);
  return (part.poles ?? []).flatMap(({ name, common, throws }): Draft[] => {
    const pin = `${part.name}.${part.pins[common]!.name}`;
    const words = `contact of pole ${name}`;
    const positions = used.length < 2 ? [] : used.filter((position) => throws[position] !== undefined);
    const dirty = [undefined, ...positions].flatMap((position): Draft[] => {
      const where = position === undefined ? "" : ` in ${position}`;
      const only = position === undefined ? {} : { only: { part: part.name, position } };
      const share = 1 / (1 + positions.length);
      const bad = graded("switch: contact high", `${words} high${where}`, "ohm", BAD_CONTACT, (ohms) =>
        rig.lead(pin, ohms),
      );
      const open = simple("switch: contact open", `${words} open${where}`, rig.lead(pin));
      return [open, bad].map((draft) => ({
        ...draft,
        part: share,
        ways: draft.ways.map((way) => ({ ...way, ...only })),
      }));
    });
    const stuck = Object.entries(throws).flatMap(([position, thrown]): Draft[] => {
      const [a, b] = [part.pins[common]!.net, part.pins[thrown]!.net];
      if (!rig.hasBridge(a, b) || (used.length === 1 && used[0] === position)) return [];
      return [simple("switch: contact stuck", `${words} stuck in ${position}`, rig.bridge(a, b))];
    });
    return [...dirty, ...stuck];
  });
}

function governorFaults(part: Part, { rig }: Bench): readonly Draft[] {
  const [a, b] = [part.pins[0]!.net, part.pins[1]!.net];
  const at = (contact: number): Changes => ({ [part.name]: { contact } });
  return [
    simple("governor: contact open", "contact open", at(OPEN)),
    graded("governor: contact high", "contact high", "ohm", BAD_CONTACT, at),
    ...(rig.hasBridge(a, b) ? [simple("governor: contact stuck", "contact stuck", rig.bridge(a, b))] : []),
  ];
}

/** Positions that a switch stands in, in the modes of the circuit. */
function positionsUsed({ name }: Part, circuit: Circuit): readonly string[] {
  const positions = modesOf(circuit).map((mode) =>
    positionOf(inMode(circuit, mode).parts.find((part) => part.name === name)!),
  );
  return [...new Set(positions)].filter((position) => position !== undefined);
}

function trackFaults(part: Part, kind: "potentiometer" | "trimmer", { rig }: Bench): readonly Draft[] {
  const { pins, name } = part;
  if (pins.length === 2) return twoPinTrimmer(part);
  const pin = (k: number) => `${name}.${pins[k]!.name}`;
  const worn = (resistance: number): Changes => rig.lead(pin(1), resistance);
  const ohms = part.values.resistance ?? 0;
  const bridges = [0, 1].flatMap((k): Draft[] => {
    const [a, b] = [pins[k]!.net, pins[k + 1]!.net];
    if (!rig.hasBridge(a, b)) return [];
    const words = `bridge between ${pins[k]!.name} and ${pins[k + 1]!.name}`;
    return [simple(`${kind}: bridge between pins`, words, rig.bridge(a, b))];
  });
  return [
    graded(`${kind}: worn at the wiper`, "worn at the wiper", "ohm", [...BAD_CONTACT, OPEN], worn),
    graded(
      `${kind}: drifted up`,
      "drifted up",
      "ohm",
      TRACK_UP.map((times) => times * ohms),
      (resistance) => ({
        [name]: { resistance },
      }),
    ),
    simple(`${kind}: track open`, `track open at ${pins[0]!.name}`, rig.lead(pin(0))),
    simple(`${kind}: track open`, `track open at ${pins[2]!.name}`, rig.lead(pin(2))),
    ...bridges,
  ];
}

function twoPinTrimmer({ name, values }: Part): readonly Draft[] {
  const ohms = values.resistance ?? 0;
  const steps = [2, 4, 10, 40, 200].map((factor) => factor * ohms);
  return [
    graded("trimmer: worn at the wiper", "worn at the wiper", "ohm", steps, (resistance) => ({
      [name]: { resistance },
    })),
    simple("trimmer: track open", "open", { [name]: { resistance: OPEN } }),
  ];
}
