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
 * The unknowns of a circuit in one order: nets (but chassis), parts' own nodes, branch currents and speeds,
 * then junction temperatures. What is known all along has a number behind those: chassis (0 V) first, then
 * the junctions that do not heat and the motors that do not turn.
 */
export interface Unknowns {
  readonly list: readonly Unknown[];
  /** How many of them there are; temperatures come last. */
  readonly size: number;
  /** How many there are without the temperatures: the small-signal unknowns. */
  readonly electrical: number;
  /** Length of a state vector: unknowns, chassis, fixed temperatures and speeds. */
  readonly stateSize: number;
  /** Number of each net's voltage. */
  readonly net: Int32Array;
  /** For each part, the numbers of its local unknowns. */
  readonly locals: readonly Int32Array[];
  /** Number of each junction temperature, by transistor. */
  readonly temperature: ReadonlyMap<string, number>;
  /** Number of each speed, by motor. */
  readonly speed: ReadonlyMap<string, number>;
}

const described = (part: Part, own: Exclude<OwnUnknown, Shared>): Unknown => {
  const what = own.kind === "node" ? `node ${own.name} inside ${part.name}` : `${own.name} of ${part.name}`;
  return { kind: own.kind, name: what, part: part.name };
};

/** Unknowns that parts share, by the part they are named after. */
type Shared = Extract<OwnUnknown, { readonly of: string }>;

const isShared = (own: OwnUnknown): own is Shared => "of" in own;
const isFree = (own: Shared, isothermal: boolean) =>
  own.kind === "speed" ? own.turns === true : own.heats === true && !isothermal;

/** Numbers the unknowns of `circuit`. With `isothermal`, no junction heats. */
export function numberUnknowns(circuit: Circuit, isothermal: boolean): Unknowns {
  const own = circuit.parts.map((part) => kindOf(part).unknowns?.(part, circuit) ?? []);
  const list: Unknown[] = circuit.nets.slice(1).map(({ name }) => ({ kind: "node", name: `net ${name}` }));
  const ownNumbers = own.map((unknowns, k) =>
    unknowns.map((unknown) =>
      isShared(unknown) ? -1 : list.push(described(circuit.parts[k]!, unknown)) - 1,
    ),
  );
  const shared = own.flat().filter(isShared);
  const numbers = { speed: new Map<string, number>(), temperature: new Map<string, number>() };
  const numberFree = (kind: Shared["kind"]) => {
    for (const unknown of shared) {
      if (unknown.kind !== kind || !isFree(unknown, isothermal) || numbers[kind].has(unknown.of)) continue;
      numbers[kind].set(unknown.of, list.length);
      list.push({ kind, name: `${kind} of ${unknown.of}`, part: unknown.of });
    }
  };
  numberFree("speed");
  const electrical = list.length;
  numberFree("temperature");
  const chassis = list.length;
  let stateSize = chassis + 1;
  for (const { kind, of } of shared) if (!numbers[kind].has(of)) numbers[kind].set(of, stateSize++);
  const net = Int32Array.from(circuit.nets, (_, k) => (k === 0 ? chassis : k - 1));
  const locals = circuit.parts.map((part, k) => {
    const pins = part.pins.map((pin) => net[pin.net]!);
    const rest = own[k]!.map((unknown, m) =>
      isShared(unknown) ? numbers[unknown.kind].get(unknown.of)! : ownNumbers[k]![m]!,
    );
    return Int32Array.from([...pins, ...rest]);
  });
  return { list, size: chassis, electrical, stateSize, net, locals, ...numbers };
}

/** Unit of a branch current when pivots are compared: a milliampere weighs as much as a volt. */
const CURRENT_UNIT = 1e-3;

/** Weight of each unknown's column when pivots are compared. */
export const columnScale = (list: readonly Unknown[]): Float64Array =>
  Float64Array.from(list, ({ kind }) => (kind === "branch" ? CURRENT_UNIT : 1));
