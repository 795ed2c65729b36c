/** Specimens with one fault each, measured as a restorer would: what the trials of `suspects` are made from. */
import type { Meter } from "../../src/bench/conditions.ts";
import { meterResistance } from "../../src/bench/meter.ts";
import type { Random } from "../../src/bench/spread/random.ts";
import { variablesOf } from "../../src/bench/spread/variables.ts";
import type { Way } from "../../src/bench/suspects/draft.ts";
import { type Fault, faultsOf } from "../../src/bench/suspects/faults.ts";
import type { Reading } from "../../src/bench/suspects/looks.ts";
import { Plant } from "../../src/bench/suspects/plant.ts";
import { changed, exchanged, Rig } from "../../src/bench/suspects/rig.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { inMode, modesOf } from "../../src/circuit/conditions.ts";

/** Parts anywhere within their tolerance, transistors anywhere within their type's spread. */
export function scattered(circuit: Circuit, random: Random): Circuit {
  const values = circuit.parts.map((part) => ({ ...part.values }));
  for (const { index, values: own } of variablesOf(circuit, {})) {
    const t = random.even();
    for (const { key, at } of own) values[index]![key] = at(t);
  }
  return { ...circuit, parts: circuit.parts.map((part, k) => ({ ...part, values: values[k]! })) };
}

/** A fault with an amount that lies on no grid. */
export interface Trouble {
  readonly fault: Fault;
  readonly way: Way;
}

const pick = <Item>(list: readonly Item[], random: Random): Item =>
  list[Math.min(list.length - 1, Math.floor(((random.even() + 1) / 2) * list.length))]!;

/** Any fault of any part, each alike. */
export function anyTrouble(circuit: Circuit, random: Random): Trouble {
  const fault = pick(faultsOf(circuit, new Rig(circuit)), random);
  const way = pick(fault.ways, random);
  const next = fault.ways[fault.ways.indexOf(way) + 1];
  if (way.amount === undefined || next?.amount === undefined) return { fault, way };
  const share = (random.even() + 1) / 2;
  const amount = way.amount * (next.amount / way.amount) ** share;
  const scale = amount / way.amount;
  const changes = Object.fromEntries(
    Object.entries(way.changes).map(([part, own]) => [
      part,
      Object.fromEntries(
        Object.entries(own).map(([key, value]) => [key, value === way.amount ? value * scale : value]),
      ),
    ]),
  );
  return { fault, way: { ...way, amount, changes } };
}

/** Nets that have a pin of a transistor, each once, by that pin; with `everywhere` all the others as well. */
function pointsOf(
  circuit: Circuit,
  everywhere: boolean,
): readonly { readonly net: number; readonly point: string }[] {
  const pins = circuit.parts
    .filter(({ kind }) => kind === "transistor")
    .flatMap(({ name, pins }) => pins.map((pin) => ({ net: pin.net, point: `${name}.${pin.name}` })));
  const nets = everywhere ? circuit.nets.map(({ name }, net) => ({ net, point: name })) : [];
  const all = [...pins, ...nets].filter(({ net }) => net !== 0);
  return all.filter(({ net }, k) => all.findIndex((each) => each.net === net) === k);
}

/** Voltages of all pins of transistors in these modes, as the meter shows them; nothing without a solution. */
export function measured(
  circuit: Circuit,
  trouble: Trouble | undefined,
  meter: Meter,
  modes: readonly string[],
  everywhere = false,
): readonly Reading[] | undefined {
  const rig = new Rig(circuit);
  const readings: Reading[] = [];
  for (const mode of modesOf(circuit)) {
    if (!modes.includes(mode.name)) continue;
    let standing = changed(inMode(rig.circuit, mode), trouble?.way.changes ?? {});
    const turned = trouble?.way.exchanged;
    if (turned !== undefined) standing = exchanged(standing, turned.part, ...turned.pins);
    const plant = new Plant(standing, { ambientCelsius: circuit.ambientCelsius, isothermal: false });
    const state = plant.solve();
    if (state === undefined) return undefined;
    for (const { net, point } of pointsOf(circuit, everywhere)) {
      const node = plant.network.unknowns.net[net]!;
      plant.system.connectMeter(net, 1 / meterResistance(meter, state[node]!));
      const loaded = plant.solve(state);
      plant.system.connectMeter(net, 0);
      if (loaded === undefined) return undefined;
      const look = { kind: "voltage" as const, net, minus: 0 };
      readings.push({ mode: mode.name, point, look, value: loaded[node]! });
    }
  }
  return readings;
}

/** Each reading off by its share of the accuracy, and rounded to what a scale of 100 divisions shows. */
export function misread(readings: readonly Reading[], accuracy: number, random: Random): readonly Reading[] {
  return readings.map((reading) => {
    const value = reading.value * (1 + accuracy * random.even());
    return { ...reading, value: Math.round(value * 1000) / 1000 };
  });
}
