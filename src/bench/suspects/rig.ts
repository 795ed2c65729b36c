import type { Circuit, Net, Part, Pin } from "../../circuit/circuit.ts";

/** A bridge that is not there, and a break that is not closed, Ω. */
const ABSENT = 1e9;
const OPEN = 3e7;
/** A solid short, Ω. */
export const SHORT = 0.3;
/** A lead that is whole: nothing against what it leads to, Ω. */
const CLOSED = 0.01;

/** Kinds whose every pin may come off on its own; of the others one value opens the whole part. */
const MANY_PINS = ["transistor", "potentiometer", "trimmer", "switch", "transformer"];

/** Values to put into parts of the rig, by part. */
export type Changes = Readonly<Record<string, Readonly<Record<string, number>>>>;

const bridgeName = (a: number, b: number) => `bridge ${Math.min(a, b)} ${Math.max(a, b)}`;
const linkName = (pin: string, at: string) => `link ${pin} at ${at}`;
const breakName = (pin: string) => `break ${pin}`;

/**
 * A circuit made ready for faults: a resistor of 1 GΩ between all pins of a part that may ever touch, and a
 * lead of 10 mΩ before every pin that may come off alone. A fault then changes values and leaves the structure
 * of the equations as it is. Nets of the circuit keep their numbers, parts their names.
 */
export class Rig {
  readonly circuit: Circuit;
  readonly #bridges = new Set<string>();

  constructor(circuit: Circuit) {
    const nets: Net[] = [...circuit.nets];
    const more: Part[] = [];
    const parts = circuit.parts.map((part) => withBreaks(part, nets, more));
    for (const part of circuit.parts) this.#addBridges(part, more);
    this.circuit = { ...circuit, nets, parts: [...parts, ...more] };
  }

  #addBridges({ pins, place, kind, poles = [] }: Part, more: Part[]): void {
    const add = (a: number, b: number) => {
      const name = bridgeName(a, b);
      if (a === b || this.#bridges.has(name)) return;
      this.#bridges.add(name);
      more.push(resistorBetween(name, a, b, place, ABSENT));
    };
    if (kind === "transistor") for (const { net } of pins) add(net, 0);
    pins.forEach((pin, k) => {
      const others = kind === "transistor" ? pins.slice(k + 1) : pins.slice(k + 1, k + 2);
      for (const other of others) add(pin.net, other.net);
    });
    for (const { common, throws } of poles)
      for (const thrown of Object.values(throws)) add(pins[common]!.net, pins[thrown]!.net);
  }

  /** Whether a resistance between two nets can be put in; not between a net and itself. */
  hasBridge(a: number, b: number): boolean {
    return this.#bridges.has(bridgeName(a, b));
  }

  /** A resistance between two nets, Ω. */
  bridge(a: number, b: number, ohms: number = SHORT): Changes {
    return { [bridgeName(a, b)]: { resistance: ohms } };
  }

  /** Two pins that may be exchanged, each at the other's net. */
  exchange(part: string, [first, second]: readonly [string, string]): Changes {
    const link = (from: string, to: string) => ({
      [linkName(`${part}.${from}`, to)]: { resistance: CLOSED },
    });
    return {
      ...this.lead(`${part}.${first}`),
      ...this.lead(`${part}.${second}`),
      ...link(first, second),
      ...link(second, first),
    };
  }

  /** A resistance in the lead of a pin (`T1.b`), Ω; without one it is off. */
  lead(pin: string, ohms: number = OPEN): Changes {
    return { [breakName(pin)]: { resistance: ohms } };
  }
}

const resistorBetween = (
  name: string,
  a: number,
  b: number,
  place: Part["place"],
  resistance: number,
): Part => ({
  name,
  kind: "resistor",
  pins: [
    { name: "1", net: a },
    { name: "2", net: b },
  ],
  values: { resistance },
  choices: {},
  place,
});

/** Pins that may have been exchanged when the part was put in. */
const exchangeable = ({ kind }: Part): readonly (readonly [number, number])[] =>
  kind === "transistor" ? [[0, 2]] : kind === "diode" ? [[0, 1]] : [];

const breaks = ({ kind, pins }: Part) => kind === "diode" || (MANY_PINS.includes(kind) && pins.length > 2);

function withBreaks(part: Part, nets: Net[], more: Part[]): Part {
  if (!breaks(part)) return part;
  const breakable = pinsThatBreak(part);
  const pins = part.pins.map((pin): Pin => {
    if (!breakable.includes(pin)) return pin;
    const name = `${part.name}.${pin.name}`;
    const net = nets.push({ name: `behind ${name}`, points: [] }) - 1;
    more.push(resistorBetween(breakName(name), pin.net, net, part.place, CLOSED));
    return { ...pin, net };
  });
  const link = (from: number, to: number) => {
    const [pin, at] = [pins[from]!, part.pins[to]!];
    more.push(
      resistorBetween(linkName(`${part.name}.${pin.name}`, at.name), pin.net, at.net, part.place, ABSENT),
    );
  };
  for (const [first, second] of exchangeable(part)) {
    link(first, second);
    link(second, first);
  }
  return { ...part, pins };
}

/** Of a switch the common contacts, of an untapped winding one end, else all. */
function pinsThatBreak({ pins, poles, windings }: Part): readonly Pin[] {
  if (poles !== undefined) return poles.map(({ common }) => pins[common]!);
  if (windings === undefined) return pins;
  return windings.flatMap((winding) =>
    (winding.pins.length > 2 ? winding.pins : winding.pins.slice(0, 1)).map((pin) => pins[pin]!),
  );
}

const placesByParts = new WeakMap<readonly Part[], ReadonlyMap<string, number>>();

/** Where parts stand, by name; parts lists are looked through once. */
function placesOf(parts: readonly Part[]): ReadonlyMap<string, number> {
  const found = placesByParts.get(parts) ?? new Map(parts.map(({ name }, k) => [name, k]));
  placesByParts.set(parts, found);
  return found;
}

/** The rig's circuit with other values in some parts; parts not named are shared. */
export function changed(circuit: Circuit, changes: Changes): Circuit {
  const parts = circuit.parts.slice();
  const placeOf = placesOf(circuit.parts);
  for (const [name, values] of Object.entries(changes)) {
    const k = placeOf.get(name);
    if (k === undefined) continue;
    parts[k] = { ...parts[k]!, values: { ...parts[k]!.values, ...values } };
  }
  return { ...circuit, parts };
}
