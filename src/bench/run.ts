import type { Circuit, Mode } from "../circuit/circuit.ts";
import { modesOf, withPartStates } from "../circuit/conditions.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import { type Network, network } from "../engine/network.ts";
import {
  isSolved,
  type OperatingPoint,
  OperatingPointSolver,
  type SolvedPoint,
} from "../engine/operating-point.ts";
import type { Conditions } from "./conditions.ts";
import { failureOf } from "./failure.ts";
import type { Failure } from "./results.ts";

/** What a question answers for every mode: results, and reasons where there are none. */
export interface Answer<Result> {
  readonly results: readonly Result[];
  readonly failures: readonly Failure[];
}

/** A mode's circuit with its solved operating point and the solver that found it. */
export interface SolvedMode {
  readonly mode: Mode;
  readonly circuit: Circuit;
  readonly point: SolvedPoint;
  readonly solver: OperatingPointSolver;
}

/** The modes asked for, in the netlist's order. */
export function chosenModes(circuit: Circuit, { modes }: Conditions): readonly Mode[] {
  const all = modesOf(circuit);
  return modes === undefined ? all : all.filter(({ name }) => modes.includes(name));
}

/** Refuses, with a RangeError, what the command line would not let through. */
function check({ parts }: Circuit, { ambientCelsius = 0, set = [] }: Conditions): void {
  if (!(ambientCelsius > -ZERO_CELSIUS && ambientCelsius < Infinity))
    throw new RangeError(`an ambient temperature in °C, not ${ambientCelsius}`);
  for (const { part, key, value } of set) {
    if (!parts.some(({ name }) => name === part)) throw new RangeError(`the circuit has no part "${part}"`);
    if (typeof value === "number" && !Number.isFinite(value))
      throw new RangeError(`a number for ${key} of ${part}, not ${value}`);
  }
}

/** The circuit's equations in one mode under these conditions. */
export function networkIn(circuit: Circuit, mode: Mode, conditions: Conditions): Network {
  check(circuit, conditions);
  const standing = withPartStates(circuit, [...mode.states, ...(conditions.set ?? [])]);
  return network(standing, {
    ambientCelsius: conditions.ambientCelsius ?? circuit.ambientCelsius,
    isothermal: conditions.isothermal ?? false,
  });
}

/** Solves each mode asked for and answers `ask` of those that have an operating point. */
export function inEachMode<Result>(
  circuit: Circuit,
  conditions: Conditions,
  ask: (solved: SolvedMode) => Answer<Result>,
): Answer<Result> {
  const results: Result[] = [];
  const failures: Failure[] = [];
  for (const mode of chosenModes(circuit, conditions)) {
    const solver = new OperatingPointSolver(networkIn(circuit, mode, conditions));
    const point: OperatingPoint = solver.solve();
    if (!isSolved(point)) {
      failures.push(failureOf(point, mode.name));
      continue;
    }
    const answer = ask({ mode, circuit: solver.network.circuit, point, solver });
    results.push(...answer.results);
    failures.push(...answer.failures);
  }
  return { results, failures };
}
