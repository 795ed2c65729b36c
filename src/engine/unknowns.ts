import type { Circuit, Part } from "../circuit/circuit.ts";
import { kindOf } from "../parts/index.ts";
import type { OwnUnknown } from "../parts/kind.ts";

/** What an unknown is, for messages and for the scale of its values. */
export interface Unknown {
  readonly kind: OwnUnknown["kind"];
  /** In words: `net rail`, `R4's current`, `temperature of T3`. */
  readonly name: string;
  /** The part it belongs to; none for a net. */
  readonly part?: string;
}

/**
 * The unknowns of a circuit in one order: nets (but chassis), parts' own nodes and branch currents, then
 * junction temperatures. What is known all along has a number behind those: chassis (0 V) first, then
 * the junctions that do not heat.
 */
export interface Unknowns {
  readonly list: readonly Unknown[];
  /** How many of them there are; temperatures come last. */
  readonly size: number;
  /** How many there are without the temperatures: the small-signal unknowns. */
  readonly electrical: number;
  /** Length of a state vector: unknowns, chassis, fixed temperatures. */
  readonly stateSize: number;
  /** Number of each net's voltage. */
  readonly net: Int32Array;
  /** For each part, the numbers of its local unknowns. */
  readonly locals: readonly Int32Array[];
  /** Number of each junction temperature, by transistor. */
  readonly temperature: ReadonlyMap<string, number>;
}

const described = (part: Part, own: OwnUnknown): Unknown => {
  if (own.kind === "temperature") return { kind: own.kind, name: `temperature of ${own.of}`, part: own.of };
  const what = own.kind === "node" ? `node ${own.name} inside ${part.name}` : `${own.name} of ${part.name}`;
  return { kind: own.kind, name: what, part: part.name };
};

/** Numbers the unknowns of `circuit`. With `isothermal`, no junction heats. */
export function numberUnknowns(circuit: Circuit, isothermal: boolean): Unknowns {
  const own = circuit.parts.map((part) => kindOf(part).unknowns?.(part, circuit) ?? []);
  const list: Unknown[] = circuit.nets.slice(1).map(({ name }) => ({ kind: "node", name: `net ${name}` }));
  const electricalNumbers = own.map((unknowns, k) =>
    unknowns.map((unknown) => {
      if (unknown.kind === "temperature") return -1;
      return list.push(described(circuit.parts[k]!, unknown)) - 1;
    }),
  );
  const electrical = list.length;
  const temperature = new Map<string, number>();
  const all = own.flat().filter((unknown) => unknown.kind === "temperature");
  for (const unknown of all) {
    if (isothermal || !unknown.heats || temperature.has(unknown.of)) continue;
    temperature.set(unknown.of, list.length);
    list.push({ kind: "temperature", name: `temperature of ${unknown.of}`, part: unknown.of });
  }
  const chassis = list.length;
  let stateSize = chassis + 1;
  for (const { of } of all) if (!temperature.has(of)) temperature.set(of, stateSize++);
  const net = Int32Array.from(circuit.nets, (_, k) => (k === 0 ? chassis : k - 1));
  const locals = circuit.parts.map((part, k) => {
    const pins = part.pins.map((pin) => net[pin.net]!);
    const rest = own[k]!.map((unknown, m) =>
      unknown.kind === "temperature" ? temperature.get(unknown.of)! : electricalNumbers[k]![m]!,
    );
    return Int32Array.from([...pins, ...rest]);
  });
  return { list, size: chassis, electrical, stateSize, net, locals, temperature };
}

/** Unit of a branch current when pivots are compared: a milliampere weighs as much as a volt. */
const CURRENT_UNIT = 1e-3;

/** Weight of each unknown's column when pivots are compared. */
export const columnScale = (list: readonly Unknown[]): Float64Array =>
  Float64Array.from(list, ({ kind }) => (kind === "branch" ? CURRENT_UNIT : 1));
