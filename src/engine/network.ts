import type { Circuit } from "../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import { type PlacedDevice, placeDevices } from "./devices.ts";
import { type FreeNodes, freeNodes } from "./islands.ts";
import { type Stamps, writeStamps } from "./stamps.ts";
import { numberUnknowns, type Unknowns } from "./unknowns.ts";

/** Temperature and heating of a run. */
export interface NetworkConditions {
  readonly ambientCelsius: number;
  readonly isothermal: boolean;
}

/**
 * A circuit in one mode, as equations: G·x + C·dx/dt + i(x) + dq(x)/dt = supplies, over numbered
 * unknowns. Solvers read it; nothing here solves.
 */
export interface Network {
  readonly circuit: Circuit;
  readonly ambientKelvin: number;
  readonly unknowns: Unknowns;
  readonly stamps: Stamps;
  readonly devices: readonly PlacedDevice[];
  /** Nodes that nothing holds at direct current, and at any frequency. */
  readonly freeAtDc: FreeNodes;
  readonly freeAtAc: FreeNodes;
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
    freeAtDc: freeNodes(circuit, unknowns, stamps, false),
    freeAtAc: freeNodes(circuit, unknowns, stamps, true),
  };
}

/** A state with every unknown 0, chassis at 0 V and every junction at ambient. */
export function restingState({ unknowns, ambientKelvin }: Network): Float64Array {
  const state = new Float64Array(unknowns.stateSize);
  for (const number of unknowns.temperature.values()) state[number] = ambientKelvin;
  return state;
}
