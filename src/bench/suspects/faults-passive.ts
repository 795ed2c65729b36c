import type { Part } from "../../circuit/circuit.ts";
import { type Bench, type Draft, graded, simple } from "./draft.ts";
import { type Changes, SHORT } from "./rig.ts";

const OPEN = 3e7;
/** Steps of a drift as factors, least to greatest; those within the tolerance are left out. */
const UP = [1.4, 2.4, 6, 40];
const DOWN = [0.1, 0.3, 0.7];
/** Leakage resistances, from one that a megohmmeter only shows to nearly a short, Ω. */
const LEAKS = [1e6, 150e3, 22e3, 3.3e3, 560, 82];
/** What is left of the capacitance. */
const DRIED = [0.02, 0.1, 0.3];

const nets = ({ pins }: Part) => [pins[0]!.net, pins.at(-1)!.net] as const;

/** What a resistor, capacitor, thermistor, diode or battery may have. */
export function passiveFaults(part: Part, bench: Bench): readonly Draft[] {
  switch (part.kind) {
    case "resistor":
      return resistorFaults(part, "resistor", bench);
    case "thermistor":
      return resistorFaults(part, "thermistor", bench);
    case "capacitor":
      return [...leaks(part, "capacitor", bench), lost(part, "capacitor")];
    case "electrolytic":
      return electrolyticFaults(part, bench);
    case "diode":
      return diodeFaults(part, bench);
    case "battery":
      return batteryFaults(part);
    default:
      return openings(part);
  }
}

function resistorFaults(part: Part, kind: "resistor" | "thermistor", { rig }: Bench): readonly Draft[] {
  const nominal = part.values.resistance ?? 0;
  const { low = -0.1, high = 0.1 } = part.tolerance ?? {};
  const [a, b] = nets(part);
  const at = (amount: number): Changes => ({ [part.name]: { resistance: amount } });
  const up = UP.filter((factor) => factor > 1 + high).map((factor) => factor * nominal);
  const down = DOWN.filter((factor) => factor < 1 + low).map((factor) => factor * nominal);
  return [
    simple(`${kind}: open`, "open", at(OPEN)),
    graded(`${kind}: drifted up`, "drifted up", "ohm", up, at),
    graded(`${kind}: drifted down`, "drifted down", "ohm", down, at),
    ...(rig.hasBridge(a, b) ? [simple(`${kind}: short`, "short", rig.bridge(a, b))] : []),
  ];
}

function leaks(part: Part, kind: "capacitor" | "electrolytic", { rig }: Bench): readonly Draft[] {
  const [a, b] = nets(part);
  if (!rig.hasBridge(a, b)) return [];
  const leak = graded(`${kind}: leaky`, "leaky", "ohm", LEAKS.toReversed(), (ohms) => rig.bridge(a, b, ohms));
  return [leak, simple(`${kind}: short`, "short", rig.bridge(a, b, SHORT))];
}

const lost = (part: Part, kind: "capacitor" | "electrolytic"): Draft =>
  simple(`${kind}: open`, "open", { [part.name]: { capacitance: 1e-15 } });

function electrolyticFaults(part: Part, bench: Bench): readonly Draft[] {
  const farads = part.values.capacitance ?? 0;
  const [a, b] = nets(part);
  const dried = graded(
    "electrolytic: dried out",
    "dried out",
    "farad",
    DRIED.map((left) => left * farads),
    (left) => ({
      [part.name]: { capacitance: left },
    }),
  );
  const backwards = LEAKS.slice(3).toReversed();
  return [
    dried,
    ...leaks(part, "electrolytic", bench),
    lost(part, "electrolytic"),
    ...(bench.rig.hasBridge(a, b)
      ? [
          graded("electrolytic: put in backwards", "put in backwards", "ohm", backwards, (ohms) =>
            bench.rig.bridge(a, b, ohms),
          ),
        ]
      : []),
  ];
}

function diodeFaults(part: Part, { rig }: Bench): readonly Draft[] {
  const [a, b] = nets(part);
  return [
    simple("diode: open", "open", rig.lead(`${part.name}.${part.pins[0]!.name}`)),
    ...(rig.hasBridge(a, b) ? [simple("diode: short", "short", rig.bridge(a, b))] : []),
    simple(
      "diode: put in backwards",
      "put in backwards",
      rig.exchange(part.name, [part.pins[0]!.name, part.pins[1]!.name]),
    ),
  ];
}

/** Shares of the EMF that a battery run down has left. */
const WEAK = [0.4, 0.55, 0.7, 0.85];

function batteryFaults(part: Part): readonly Draft[] {
  const emf = part.values.emf ?? 0;
  const internal = part.values.internal ?? 0;
  return [
    graded(
      "battery: weak",
      "weak",
      "volt",
      WEAK.map((left) => left * emf),
      (left) => ({
        [part.name]: { emf: left, internal: internal * (1 + 5 * (1 - left / emf)) },
      }),
    ),
    simple("battery: open", "open, or its contacts", { [part.name]: { internal: OPEN } }),
  ];
}

/** Parts of two pins that one value opens. */
function openings(part: Part): readonly Draft[] {
  const open = (values: Readonly<Record<string, number>>): Changes => ({ [part.name]: values });
  switch (part.kind) {
    case "meter":
      return [simple("meter: open", "open", open({ resistance: OPEN }))];
    case "motor":
      return [simple("motor: open", "open", open({ resistance: OPEN }))];
    case "lamp":
      return [simple("lamp: open", "open", open({ current: 1e-9 }))];
    case "generator":
      return [simple("generator: open", "open", open({ source: OPEN }))];
    default:
      return [];
  }
}
