import type { Part } from "../../circuit/circuit.ts";
import { type Bench, type Draft, graded, simple } from "./draft.ts";
import type { Changes } from "./rig.ts";

const OPEN = 3e7;
/** Resistances of a bad contact or of a worn wiper, Ω. */
const BAD_CONTACT = [15, 100, 680, 4.7e3, 33e3, 220e3];
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

function switchFaults(part: Part, { rig }: Bench): readonly Draft[] {
  return (part.poles ?? []).flatMap(({ name, common }) => {
    const pin = `${part.name}.${part.pins[common]!.name}`;
    return [
      simple("switch: contact open", `contact of pole ${name} open`, rig.lead(pin)),
      graded("switch: contact high", `contact of pole ${name} high`, "ohm", BAD_CONTACT, (ohms) =>
        rig.lead(pin, ohms),
      ),
    ];
  });
}

function trackFaults(part: Part, kind: "potentiometer" | "trimmer", { rig }: Bench): readonly Draft[] {
  const { pins, name } = part;
  if (pins.length === 2) return twoPinTrimmer(part);
  const pin = (k: number) => `${name}.${pins[k]!.name}`;
  const worn = (ohms: number): Changes => rig.lead(pin(1), ohms);
  const bridges = [0, 1].flatMap((k): Draft[] => {
    const [a, b] = [pins[k]!.net, pins[k + 1]!.net];
    if (!rig.hasBridge(a, b)) return [];
    const words = `bridge between ${pins[k]!.name} and ${pins[k + 1]!.name}`;
    return [simple(`${kind}: bridge between pins`, words, rig.bridge(a, b))];
  });
  return [
    graded(`${kind}: worn at the wiper`, "worn at the wiper", "ohm", [...BAD_CONTACT, OPEN], worn),
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
