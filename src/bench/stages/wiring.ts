import type { Circuit, Part } from "../../circuit/circuit.ts";
import { contacts } from "../../parts/switch.ts";

/** Kinds that are a resistance between two pins, to direct current and to small signals. */
const RESISTORS = new Set(["resistor", "trimmer", "thermistor", "lamp", "diode"]);
const CAPACITORS = new Set(["capacitor", "electrolytic"]);

/** A two-pin part seen from one of its ends. */
export interface Branch {
  readonly part: Part;
  /** Index into `Circuit.parts`. */
  readonly index: number;
  /** The net at its other end, contacts seen through. */
  readonly far: number;
}

/** Which nets are one: closed contacts join them. Nets are named by the least index of those joined. */
export class Wiring {
  readonly circuit: Circuit;
  readonly #joined: number[];
  readonly #supply: ReadonlySet<number>;

  constructor(circuit: Circuit) {
    this.circuit = circuit;
    this.#joined = circuit.nets.map((_, net) => net);
    for (const part of circuit.parts) {
      if (part.positions === undefined) continue;
      for (const { common, thrown, closed } of contacts(part)) {
        if (closed) this.#join(part.pins[common]!.net, part.pins[thrown]!.net);
      }
    }
    const batteries = circuit.parts.filter(({ kind }) => kind === "battery");
    this.#supply = new Set([0, ...batteries.flatMap(({ pins }) => pins.map(({ net }) => this.net(net)))]);
  }

  #join(a: number, b: number): void {
    const [low, high] = [this.net(a), this.net(b)].toSorted((x, y) => x - y);
    this.#joined.forEach((net, k) => {
      if (net === high) this.#joined[k] = low!;
    });
  }

  net(net: number): number {
    return this.#joined[net]!;
  }

  /** The net a pin of a part is on. */
  at(part: number, pin: number): number {
    return this.net(this.circuit.parts[part]!.pins[pin]!.net);
  }

  /** Chassis, or a pole of a battery. */
  isSupply(net: number): boolean {
    return this.#supply.has(this.net(net));
  }

  #branches(net: number, kinds: ReadonlySet<string>): Branch[] {
    return this.circuit.parts.flatMap((part, index) => {
      const [first, second] = part.pins.map((pin) => this.net(pin.net));
      if (!kinds.has(part.kind) || part.pins.length !== 2 || first === second) return [];
      if (first === net) return [{ part, index, far: second! }];
      return second === net ? [{ part, index, far: first! }] : [];
    });
  }

  resistorsAt = (net: number): Branch[] => this.#branches(this.net(net), RESISTORS);
  capacitorsAt = (net: number): Branch[] => this.#branches(this.net(net), CAPACITORS);

  /** Parts of a kind with a pin on the net. */
  partsAt(net: number, kind: string): readonly Part[] {
    const here = this.net(net);
    return this.circuit.parts.filter(
      (part) => part.kind === kind && part.pins.some((pin) => this.net(pin.net) === here),
    );
  }

  /** Transistors with a pin (0 emitter, 1 base, 2 collector) on the net. */
  transistorsAt(net: number, pin: number): readonly Part[] {
    const here = this.net(net);
    return this.circuit.parts.filter(
      (part) => part.kind === "transistor" && this.net(part.pins[pin]!.net) === here,
    );
  }

  /** Nets that direct current reaches from `net` through resistances and coils, supplies not crossed. */
  reached(net: number): ReadonlySet<number> {
    const found = new Set([this.net(net)]);
    for (const here of found) {
      if (this.isSupply(here)) continue;
      for (const part of this.circuit.parts) for (const far of this.#through(part, here)) found.add(far);
    }
    return found;
  }

  /** Parts (by number) met from `net` outwards, up to supplies and to nets with a transistor on them. */
  partsAround(net: number): ReadonlySet<number> {
    const nets = new Set([this.net(net)]);
    const found = new Set<number>();
    for (const here of nets) {
      if (here !== this.net(net) && this.#isEnd(here)) continue;
      this.circuit.parts.forEach((part, k) => {
        const on = part.pins.map((pin) => this.net(pin.net));
        if (part.kind === "transistor" || part.positions !== undefined || !on.includes(here)) return;
        found.add(k);
        for (const far of on) nets.add(far);
      });
    }
    return found;
  }

  #isEnd(net: number): boolean {
    return this.isSupply(net) || [0, 1, 2].some((pin) => this.transistorsAt(net, pin).length > 0);
  }

  #through(part: Part, here: number): number[] {
    if (part.kind === "transistor" || part.kind === "diode" || part.kind === "battery") return [];
    const on = part.windings?.map(({ pins }) => pins) ?? [part.pins.map((_, pin) => pin)];
    if (CAPACITORS.has(part.kind) || part.positions !== undefined) return [];
    return on
      .map((pins) => pins.map((pin) => this.net(part.pins[pin]!.net)))
      .filter((nets) => nets.includes(here))
      .flat();
  }
}
