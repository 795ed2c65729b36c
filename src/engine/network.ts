import type { Circuit, Part } from "../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import { kindOf } from "../parts/index.ts";
import { FOUND, type PartKind, type Surroundings } from "../parts/kind.ts";
import { type PlacedDevice, placeDevices } from "./devices.ts";
import { type FreeNodes, freeNodes } from "./islands.ts";
import { Rewriter, rewriteStamp, type Stamps, writeStamps } from "./stamps.ts";
import { numberUnknowns, type Unknowns } from "./unknowns.ts";

/** Temperature and heating of a run. */
export interface NetworkConditions {
  readonly ambientCelsius: number;
  readonly isothermal: boolean;
}

/**
 * A circuit in one mode, as equations: G·x + C·dx/dt + i(x) + dq(x)/dt = supplies, over numbered
 * unknowns. Solvers read it; nothing here solves. `retune` puts other values into it.
 */
export interface Network {
  circuit: Circuit;
  ambientKelvin: number;
  readonly unknowns: Unknowns;
  readonly stamps: Stamps;
  readonly devices: readonly PlacedDevice[];
  /** Kind of each part. */
  readonly kinds: readonly PartKind[];
  /** Nodes that nothing holds at direct current, and at any frequency. */
  freeAtDc: FreeNodes;
  freeAtAc: FreeNodes;
}

/** Conductance that holds a free island at 0 V; no current flows in it. */
export const HOLD = 1e-6;

/** Writes down the equations of `circuit` as it stands (switches and settings in place). */
export function network(circuit: Circuit, { ambientCelsius, isothermal }: NetworkConditions): Network {
  const ambientKelvin = ambientCelsius + ZERO_CELSIUS;
  const surroundings = { circuit, ambientKelvin };
  const unknowns = numberUnknowns(circuit, isothermal);
  const stamps = writeStamps(circuit, unknowns, surroundings);
  return {
    circuit,
    ambientKelvin,
    unknowns,
    stamps,
    devices: placeDevices(circuit, unknowns, surroundings),
    kinds: circuit.parts.map(kindOf),
    freeAtDc: freeNodes(circuit, unknowns, stamps, false),
    freeAtAc: freeNodes(circuit, unknowns, stamps, true),
  };
}

/**
 * Whether a part stands in the same structure as before: other numbers, no other words. A state that it took
 * of its own accord does not count.
 */
function sameWords({ choices: a }: Part, { choices: b }: Part): boolean {
  if (a === b) return true;
  for (const key in a) if (key !== FOUND && a[key] !== b[key]) return false;
  for (const key in b) if (key !== FOUND && a[key] !== b[key]) return false;
  return true;
}

/**
 * Puts the values of `circuit` (the same parts, in the same order) into a network in place. Returns false
 * if its structure is not the same, such as after a turn of a switch: the network is then of no more use
 * and must be built anew.
 */
export function retune(network: Network, circuit: Circuit, ambientCelsius: number): boolean {
  const ambientKelvin = ambientCelsius + ZERO_CELSIUS;
  const before = network.circuit.parts;
  const everything = ambientKelvin !== network.ambientKelvin || circuit.types !== network.circuit.types;
  if (circuit.parts.length !== before.length) return false;
  network.circuit = circuit;
  network.ambientKelvin = ambientKelvin;
  const surroundings = { circuit, ambientKelvin };
  const changed = (k: number) => everything || circuit.parts[k] !== before[k];
  const rewriter = new Rewriter(network.stamps);
  let changesState = false;
  for (let k = 0; k < before.length; k++) {
    if (!changed(k)) continue;
    const part = circuit.parts[k]!;
    const kind = network.kinds[k]!;
    if (kind.keyword !== part.kind || !sameWords(before[k]!, part)) return false;
    if (!rewriter.rewrite(part, kind, k, surroundings)) return false;
    changesState ||= kind.events !== undefined;
  }
  if (changesState) refreshFreeNodes(network);
  return network.devices.every(
    (placed) => !changed(placed.part) || replaceDevice(placed, network.kinds[placed.part]!, surroundings),
  );
}

function refreshFreeNodes(network: Network): void {
  const { circuit, unknowns, stamps } = network;
  network.freeAtDc = freeNodes(circuit, unknowns, stamps, false);
  network.freeAtAc = freeNodes(circuit, unknowns, stamps, true);
}

/**
 * Puts a part (index into `Circuit.parts`) into a state that it takes of its own accord, in place; without
 * one, into the state it is in at rest. The structure stays; systems built on the network must take over its
 * stamps and free nodes anew.
 */
export function putInState(network: Network, index: number, state: string | undefined): void {
  const { [FOUND]: _, ...others } = network.circuit.parts[index]!.choices;
  const choices = state === undefined ? others : { ...others, [FOUND]: state };
  const parts = network.circuit.parts.slice();
  parts[index] = { ...parts[index]!, choices };
  network.circuit = { ...network.circuit, parts };
  rewriteStamp(network.stamps, parts[index], index, network);
  refreshFreeNodes(network);
}

/**
 * Puts `circuit` (the same parts, in the same order) into a network in place, switches in other positions
 * as well: a contact or a battery that is open keeps its branch. Returns false, with the network no longer
 * to be used, if some part's equations are others.
 */
export function reshape(network: Network, circuit: Circuit): boolean {
  const before = network.circuit.parts;
  network.circuit = circuit;
  const surroundings = { circuit, ambientKelvin: network.ambientKelvin };
  const changed = (k: number) => circuit.parts[k] !== before[k];
  for (let k = 0; k < before.length; k++) {
    if (changed(k) && !rewriteStamp(network.stamps, circuit.parts[k]!, k, surroundings)) return false;
  }
  network.freeAtDc = freeNodes(circuit, network.unknowns, network.stamps, false);
  network.freeAtAc = freeNodes(circuit, network.unknowns, network.stamps, true);
  return network.devices.every(
    (placed) => !changed(placed.part) || replaceDevice(placed, network.kinds[placed.part]!, surroundings),
  );
}

function replaceDevice(placed: PlacedDevice, kind: PartKind, surroundings: Surroundings): boolean {
  const part = surroundings.circuit.parts[placed.part]!;
  const device = kind.equations?.(part, surroundings);
  if (device?.size !== placed.device.size) return false;
  placed.device = device;
  return true;
}

/** A state with every unknown 0, chassis at 0 V and every junction at ambient. */
export function restingState({ unknowns, ambientKelvin }: Network): Float64Array {
  const state = new Float64Array(unknowns.stateSize);
  for (const number of unknowns.temperature.values()) state[number] = ambientKelvin;
  return state;
}

/** Puts the junctions that do not heat at ambient, which may have changed since `state` was solved. */
export function setFixedTemperatures({ unknowns, ambientKelvin }: Network, state: Float64Array): void {
  for (const number of unknowns.temperature.values()) {
    if (number > unknowns.size) state[number] = ambientKelvin;
  }
}
