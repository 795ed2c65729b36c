import type { Circuit, PartState } from "../../circuit/circuit.ts";
import { type Network, restingState } from "../../engine/network.ts";
import { isSolved, OperatingPointSolver } from "../../engine/operating-point.ts";
import { failureOf } from "../failure.ts";
import type { Failure } from "../results.ts";
import type { PlannedEvent, Start } from "./conditions.ts";

/** Batteries that the first event to name them switches on are off until then, and the other way round. */
export function powerBefore(circuit: Circuit, events: readonly PlannedEvent[]): PartState[] {
  return circuit.parts.flatMap(({ name }) => {
    const first = events
      .flatMap(({ states }) => states)
      .find(({ part, key }) => part === name && key === "power");
    return first === undefined
      ? []
      : [{ part: name, key: "power", value: first.value === "on" ? "off" : "on" }];
  });
}

/** The state that a run begins with. */
export function startState(network: Network, start: Start, mode: string): Float64Array | Failure {
  const state = start.from === "rest" ? restingState(network) : pointState(network, mode);
  if (!(state instanceof Float64Array)) return state;
  for (const { net, volts } of start.displaced) state[network.unknowns.net[net]!] = volts;
  return state;
}

function pointState(network: Network, mode: string): Float64Array | Failure {
  const point = new OperatingPointSolver(network).solve();
  return isSolved(point) ? point.state.slice() : failureOf(point, mode);
}
