/** Specimens with one fault each, measured as a restorer would: what the trials of `suspects` are made from. */
import type { Meter } from "../../src/bench/conditions.ts";
import { meterResistance } from "../../src/bench/meter.ts";
import type { Random } from "../../src/bench/spread/random.ts";
import { acts, type Way } from "../../src/bench/suspects/draft.ts";
import { type Fault, faultsOf } from "../../src/bench/suspects/faults.ts";
import type { Reading } from "../../src/bench/suspects/looks.ts";
import { Plant } from "../../src/bench/suspects/plant.ts";
import { changed, Rig } from "../../src/bench/suspects/rig.ts";
import { uncertainties } from "../../src/bench/suspects/uncertain.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { inMode, modesOf } from "../../src/circuit/conditions.ts";

/**
 * Parts anywhere within their tolerance (resistors without one within 10 %), transistors anywhere within their type's
 * spread, batteries within a few per cent.
 */
export function scattered(circuit: Circuit, random: Random): Circuit {
  const values = circuit.parts.map((part) => ({ ...part.values }));
  for (const { index, values: own } of uncertainties(circuit)) {
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

/** Between 0 and 1. */
const share = (random: Random): number => (random.even() + 1) / 2;

function pick<Item>(list: readonly Item[], random: Random, weight: (item: Item) => number = () => 1): Item {
  const goal = share(random) * list.reduce((sum, item) => sum + weight(item), 0);
  let passed = 0;
  const found = list.find((item) => {
    passed += weight(item);
    return passed > goal;
  });
  return found ?? list.at(-1)!;
}

/** How faults are drawn: each as often as it is common, or every kind of fault as often as every other. */
export type Draw = "common" | "uniform";

/** A fault of some part, and of a continuous one any amount between the ends of its grid, evenly over decades. */
export function anyTrouble(specimen: Circuit, random: Random, draw: Draw = "common"): Trouble {
  const all = faultsOf(specimen, new Rig(specimen));
  const key = pick([...new Set(all.map((each) => each.key))], random);
  const fault =
    draw === "common"
      ? pick(all, random, ({ weight }) => weight)
      : pick(
          all.filter((each) => each.key === key),
          random,
        );
  const last = fault.ways.length - 1;
  const cell = Math.floor(share(random) * Math.max(1, last));
  const [way, next] = [fault.ways[cell]!, fault.ways[Math.min(last, cell + 1)]!];
  if (way.amount === undefined || next.amount === undefined) return { fault, way };
  return { fault, way: scaled(way, (next.amount / way.amount) ** share(random)) };
}

function scaled(way: Way, scale: number): Way {
  const of = (own: Readonly<Record<string, number>>) =>
    Object.fromEntries(
      Object.entries(own).map(([key, value]) => [key, value === way.amount ? value * scale : value]),
    );
  const changes = Object.fromEntries(Object.entries(way.changes).map(([part, own]) => [part, of(own)]));
  return { ...way, amount: way.amount! * scale, changes };
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
    let standing = inMode(rig.circuit, mode);
    const way = trouble !== undefined && acts(trouble.way, standing) ? trouble.way : undefined;
    standing = changed(standing, way?.changes ?? {});
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

/** Errors of a meter: shares of what it shows, evenly distributed up to its accuracy. */
export const errorsOf = (count: number, accuracy: number, random: Random): Float64Array =>
  Float64Array.from({ length: count }, () => accuracy * random.even());

/** Readings as they are noted down: with the meter's errors, to the nearest millivolt. */
export const misread = (
  readings: readonly Reading[],
  accuracy: number,
  random: Random,
  errors = errorsOf(readings.length, accuracy, random),
): readonly Reading[] =>
  readings.map((reading, k) => ({
    ...reading,
    value: Math.round(reading.value * (1 + errors[k]!) * 1000) / 1000,
  }));
