import type { Circuit, Part, Tolerance } from "../../circuit/circuit.ts";
import type { Network } from "../../engine/network.ts";
import { kindOf } from "../../parts/index.ts";
import type { Device, Load, Stamp } from "../../parts/kind.ts";
import { type Variable, variablesOf } from "../spread/variables.ts";
import type { Changes } from "./rig.ts";

/** What resistances vary by where the netlist gives no tolerance; common practice, no source. */
const USUAL: Tolerance = { low: -0.1, high: 0.1 };
const USUAL_KINDS = ["resistor", "potentiometer", "trimmer", "thermistor"];
/** Standard deviation of a battery's EMF, as a share of it: it is seldom what stands on it; no source. */
const EMF_DEVIATION = 0.02;
/** Standard deviation of a number evenly distributed between −1 and 1. */
const DEVIATION = 1 / Math.sqrt(3);
/** No part is taken to lie further out, as a multiple of its tolerance. */
const FURTHEST = 1.15;
/** Within so many standard deviations an effect is that of the middle. */
const NEAR = 0.2;

const loosened = (part: Part): Part =>
  part.tolerance === undefined && USUAL_KINDS.includes(part.kind) ? { ...part, tolerance: USUAL } : part;

/** What differs from specimen to specimen, batteries included; indices into the parts of `circuit`. */
export function uncertainties(circuit: Circuit): readonly Variable[] {
  const batteries = circuit.parts.flatMap(({ kind, name, values }) =>
    kind === "battery" ? [[name, rangeOf(values.emf ?? 0)] as const] : [],
  );
  const loose = { ...circuit, parts: circuit.parts.map(loosened) };
  return variablesOf(loose, { batteries: Object.fromEntries(batteries) });
}

function rangeOf(emf: number) {
  const half = (EMF_DEVIATION * emf) / DEVIATION;
  return { from: emf - half, to: emf + half };
}

/** How one variable enters the equations when it goes one standard deviation up, linearised about its middle. */
interface Entry {
  readonly variable: Variable;
  readonly row: Int32Array;
  readonly column: Int32Array;
  /** Change of G at (row, column); at column −1 of the supply. */
  readonly value: Float64Array;
  readonly device?: {
    readonly up: Device;
    readonly down: Device;
    readonly locals: Int32Array;
    readonly x: Float64Array;
    readonly load: readonly [Load, Load];
  };
}

function calls(
  network: Network,
  index: number,
  part: Part,
): { row: number[]; column: number[]; value: number[] } {
  const locals = network.unknowns.locals[index]!;
  const made = { row: [] as number[], column: [] as number[], value: [] as number[] };
  const write = (row: number, column: number, value: number) => {
    made.row.push(locals[row]!);
    made.column.push(column < 0 ? -1 : locals[column]!);
    made.value.push(value);
  };
  const into: Stamp = {
    g: write,
    c: () => {},
    supply: (row, value) => write(row, -1, value),
    signal: () => {},
  };
  kindOf(part).stamp?.(part, into, network);
  return made;
}

/** Where a variable lies so many standard deviations above its middle, not much beyond its tolerance. */
const placeAt = (shift: number): number => Math.max(-FURTHEST, Math.min(FURTHEST, shift * DEVIATION));

const valuesOf = ({ values }: Variable, t: number): Readonly<Record<string, number>> =>
  Object.fromEntries(values.map(({ key, at }) => [key, at(t)]));

/** The values of a specimen whose variables lie so many standard deviations above their middles. */
export function valuesAt(
  variables: readonly Variable[],
  shifts: Float64Array,
  skip: (variable: Variable) => boolean,
): Changes {
  const changes: Record<string, Record<string, number>> = {};
  variables.forEach((variable, k) => {
    if (shifts[k] === 0 || skip(variable)) return;
    changes[variable.part] = { ...changes[variable.part], ...valuesOf(variable, placeAt(shifts[k]!)) };
  });
  return changes;
}

function entryOf(network: Network, variable: Variable, shift: number): Entry {
  const part = network.circuit.parts[variable.index]!;
  const at = (side: number): Part => ({
    ...part,
    values: { ...part.values, ...valuesOf(variable, placeAt(shift) + side * DEVIATION) },
  });
  const [up, down] = [at(1), at(-1)];
  const above = calls(network, variable.index, up);
  const below = calls(network, variable.index, down);
  const moves = above.row.map((_, k) => (above.value[k]! - below.value[k]!) / 2);
  const kept = moves.flatMap((value, k) => (value === 0 ? [] : [k]));
  const device = deviceOf(network, variable.index, up, down);
  return {
    variable,
    row: Int32Array.from(kept, (k) => above.row[k]!),
    column: Int32Array.from(kept, (k) => above.column[k]!),
    value: Float64Array.from(kept, (k) => moves[k]!),
    ...(device !== undefined && { device }),
  };
}

function deviceOf(network: Network, index: number, up: Part, down: Part): Entry["device"] {
  const equations = (part: Part) => kindOf(part).equations?.(part, network);
  const [above, below] = [equations(up), equations(down)];
  if (above === undefined || below === undefined) return undefined;
  const { size } = above;
  const load = (): Load => ({ current: new Float64Array(size), slope: new Float64Array(size * size) });
  return {
    up: above,
    down: below,
    locals: network.unknowns.locals[index]!,
    x: new Float64Array(size),
    load: [load(), load()],
  };
}

/** What the variables push into the equations at a state: rows and amounts, by variable. */
export interface Pushes {
  /** Pushes of variable k: `start[k]` … `start[k + 1]` − 1. */
  readonly start: Int32Array;
  readonly row: Int32Array;
  readonly amount: Float64Array;
}

/** How one network's equations answer to everything that differs from specimen to specimen. */
export class Uncertainty {
  readonly variables: readonly Variable[];
  readonly #entries: readonly Entry[];
  readonly #row: Int32Array;
  readonly #amount: Float64Array;
  readonly #start: Int32Array;

  /**
   * Linearised about the middle, or about a specimen that the network is tuned to; what lies near the middle there is
   * taken over from `usual`.
   */
  constructor(
    network: Network,
    variables: readonly Variable[],
    specimen?: { readonly shifts: Float64Array; readonly usual: Uncertainty },
  ) {
    this.variables = variables;
    const shifts = specimen?.shifts;
    const usual = specimen === undefined ? [] : specimen.usual.#entries;
    const moved = new Set(
      variables.flatMap(({ part }, k) => (Math.abs(shifts?.[k] ?? 0) > NEAR ? [part] : [])),
    );
    this.#entries = variables.map((variable, k) => {
      const known = moved.has(variable.part) ? undefined : usual[k];
      return known ?? entryOf(network, variable, shifts?.[k] ?? 0);
    });
    const most = this.#entries.reduce(
      (sum, { row, device }) => sum + row.length + (device?.x.length ?? 0),
      0,
    );
    this.#row = new Int32Array(most);
    this.#amount = new Float64Array(most);
    this.#start = new Int32Array(variables.length + 1);
  }

  /**
   * −∂F at `state` for one standard deviation of each variable; variables that `skip` names have none. The arrays
   * are used again.
   */
  pushes(state: Float64Array, skip: (variable: Variable) => boolean): Pushes {
    let end = 0;
    const put = (row: number, amount: number) => {
      this.#row[end] = row;
      this.#amount[end++] = amount;
    };
    this.#entries.forEach((entry, k) => {
      if (!skip(entry.variable)) push(entry, state, put);
      this.#start[k + 1] = end;
    });
    return { start: this.#start, row: this.#row, amount: this.#amount };
  }
}

function push(
  { row, column, value, device }: Entry,
  state: Float64Array,
  put: (row: number, amount: number) => void,
) {
  for (let e = 0; e < row.length; e++) {
    // the supply stands on the other side of the equation
    put(row[e]!, column[e]! < 0 ? value[e]! : -value[e]! * state[column[e]!]!);
  }
  if (device === undefined) return;
  const { up, down, locals, x, load } = device;
  for (let k = 0; k < x.length; k++) x[k] = state[locals[k]!]!;
  up.evaluate(x, load[0]);
  down.evaluate(x, load[1]);
  for (let k = 0; k < x.length; k++) put(locals[k]!, (load[1].current[k]! - load[0].current[k]!) / 2);
}
