/** What lies around a pin: the nets that are one for direct current, or one for signals. */
import type { Circuit, Part } from "../../circuit/circuit.ts";
import { inductance } from "../../parts/inductor.ts";
import { contacts } from "../../parts/switch.ts";

/** Sets of nets joined to one. */
class Joined {
  readonly #leader: Int32Array;

  constructor(count: number) {
    this.#leader = Int32Array.from({ length: count }, (_, k) => k);
  }

  of(net: number): number {
    let leader = net;
    while (this.#leader[leader] !== leader) leader = this.#leader[leader]!;
    return leader;
  }

  join(a: number, b: number): void {
    this.#leader[this.of(a)] = this.of(b);
  }
}

const netOf = (part: Part, pin: number): number => part.pins[pin]?.net ?? 0;

function joinContacts(joined: Joined, part: Part): void {
  if (part.kind !== "switch") return;
  for (const { common, thrown, closed } of contacts(part)) {
    if (closed) joined.join(netOf(part, common), netOf(part, thrown));
  }
}

/** Nets that differ by no direct voltage worth mentioning: joined by closed contacts, coils and windings. */
function forDirectCurrent({ nets, parts }: Circuit): Joined {
  const joined = new Joined(nets.length);
  for (const part of parts) {
    joinContacts(joined, part);
    if (part.kind === "inductor" || part.kind === "head") joined.join(netOf(part, 0), netOf(part, 1));
    for (const { pins } of part.windings ?? []) {
      for (const pin of pins) joined.join(netOf(part, pin), netOf(part, pins[0] ?? 0));
    }
  }
  return joined;
}

/** Past a single resistor in the base lead the bias network begins; so many of them may lie in a row. */
const STOPPERS = 3;

/** The resistors at the base of a transistor (name); where one alone leads to it, those behind it as well. */
export function baseResistors(circuit: Circuit, transistor: Part): readonly Part[] {
  const joined = forDirectCurrent(circuit);
  const base = transistor.pins.findIndex(({ name }) => name === "b");
  const reached = new Set([joined.of(netOf(transistor, base))]);
  const found = new Set<Part>();
  for (let k = 0; k < STOPPERS; k++) {
    const ends = (part: Part) => [0, 1].map((pin) => joined.of(netOf(part, pin)));
    const at = circuit.parts.filter(
      (part) => part.kind === "resistor" && ends(part).filter((net) => reached.has(net)).length === 1,
    );
    for (const part of at) found.add(part);
    const [only] = at;
    const others = circuit.parts.some(
      (part) =>
        part.name !== transistor.name &&
        (part.kind === "transistor" || part.kind === "diode" || part.kind === "potentiometer") &&
        part.pins.some(({ net }) => reached.has(joined.of(net))),
    );
    if (only === undefined || at.length > 1 || others) break;
    // chassis and rails are where bias comes from, not where it is made
    const beyond = ends(only).filter((net) => !reached.has(net) && net !== joined.of(0));
    for (const net of beyond) reached.add(net);
  }
  return [...found];
}

/** A capacitor of so much joins its nets for signals, F. */
const SHORT = 1e-6;

function forSignals({ nets, parts }: Circuit): Joined {
  const joined = new Joined(nets.length);
  for (const part of parts) {
    joinContacts(joined, part);
    const { capacitance = 0 } = part.values;
    const passes =
      part.kind === "battery" ||
      ((part.kind === "electrolytic" || part.kind === "capacitor") && capacitance >= SHORT);
    if (passes) joined.join(netOf(part, 0), netOf(part, 1));
  }
  return joined;
}

interface Coil {
  readonly from: number;
  readonly to: number;
  readonly henries: number;
}

/** Inductors, and every winding with its own inductance. */
function coilsOf(part: Part): readonly Coil[] {
  if (part.kind === "inductor") {
    return [{ from: netOf(part, 0), to: netOf(part, 1), henries: inductance(part) }];
  }
  const windings = part.windings ?? [];
  const turns = (winding: (typeof windings)[number]) => winding.turns.reduce((sum, n) => sum + n, 0);
  const reference = windings.find(({ name }) => name === part.choices["magnetising.on"]) ?? windings[0];
  return windings.map((winding) => ({
    from: netOf(part, winding.pins[0] ?? 0),
    to: netOf(part, winding.pins.at(-1) ?? 0),
    henries: (part.values.magnetising ?? 0) * (turns(winding) / (reference ? turns(reference) : 1)) ** 2,
  }));
}

/**
 * Resonant circuits at a transistor: 1/(2π√(LC)) of every coil or winding with a capacitor straight across it
 * that belongs to a core with an end at the transistor, Hz. Batteries and capacitors from 1 µF up count as shorts.
 */
export function tankFrequencies(circuit: Circuit, transistor: Part): readonly number[] {
  const joined = forSignals(circuit);
  const own = new Set(transistor.pins.map(({ net }) => joined.of(net)).filter((net) => net !== joined.of(0)));
  const across = ({ from, to }: Coil) => {
    const ends = [joined.of(from), joined.of(to)];
    return circuit.parts
      .filter(({ kind, values: { capacitance = 0 } }) => kind === "capacitor" && capacitance < SHORT)
      .filter((part) => {
        const [a, b] = [joined.of(netOf(part, 0)), joined.of(netOf(part, 1))];
        return a !== b && ends.includes(a) && ends.includes(b);
      })
      .reduce((sum, { values }) => sum + (values.capacitance ?? 0), 0);
  };
  return circuit.parts.flatMap((part) => {
    const coils = coilsOf(part);
    const touches = coils.some(({ from, to }) => own.has(joined.of(from)) || own.has(joined.of(to)));
    if (!touches) return [];
    return coils.flatMap((coil) => {
      const farads = across(coil);
      return farads > 0 && coil.henries > 0 ? [1 / (2 * Math.PI * Math.sqrt(coil.henries * farads))] : [];
    });
  });
}

/** Whether a coil or winding ends at the collector: it then swings to twice the supply. */
export function coilAtCollector(circuit: Circuit, transistor: Part): boolean {
  const joined = forSignals(circuit);
  const pin = transistor.pins.find(({ name }) => name === "c");
  const collector = joined.of(pin?.net ?? 0);
  return circuit.parts.some((part) =>
    coilsOf(part).some(({ from, to }) => joined.of(from) === collector || joined.of(to) === collector),
  );
}
