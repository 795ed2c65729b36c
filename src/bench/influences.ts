import type { Circuit } from "../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import type { Conditions } from "./conditions.ts";
import { type Answer, inEachMode, type SolvedMode } from "./run.ts";
import { sensitivities } from "./spread/causes.ts";
import { Observer } from "./spread/observer.ts";
import { Specimens } from "./spread/specimen.ts";
import { variablesOf } from "./spread/variables.ts";

/** What one part does to one figure when it goes from the middle of its tolerance to the upper end. */
export interface Influence {
  readonly part: string;
  /** `resistance`, `hfe`, `leakage`, `capacitance` … */
  readonly quantity: string;
  /** Change of the figure, V, A or dB: half of that from the lower to the upper end of the tolerance. */
  readonly change: number;
}

/** By net (shown name), transistor (collector current) and path (gain at 1 kHz): greatest first. */
export interface Influences {
  readonly mode: string;
  readonly nets: Readonly<Record<string, readonly Influence[]>>;
  readonly transistors: Readonly<Record<string, readonly Influence[]>>;
  readonly paths: Readonly<Record<string, readonly Influence[]>>;
}

/** From one standard deviation of an even distribution to its end. */
const TO_THE_END = Math.sqrt(3);
/** Less than this share of the greatest is not worth naming. */
const LEAST_SHARE = 0.05;
const MOST = 8;

/** Which parts make each voltage, collector current and gain what it is, and by how much within their tolerance. */
export const influences = (circuit: Circuit, conditions: Conditions = {}): Answer<Influences> =>
  inEachMode(circuit, conditions, (solved) => ({ results: [influencesIn(solved)], failures: [] }));

function influencesIn(solved: SolvedMode): Influences {
  const { circuit, solver, mode } = solved;
  const variables = variablesOf(circuit, {});
  const ambientCelsius = solver.network.ambientKelvin - ZERO_CELSIUS;
  const specimens = new Specimens(circuit, variables, ambientCelsius);
  const observer = new Observer(solved);
  const centre = { ...solved.point, state: solved.point.state.slice() };
  const { effect } = sensitivities(solver, specimens, variables, observer, centre);
  const at = (observation: number): readonly Influence[] => {
    const all = variables.map(({ part, quantity }, k) => ({
      part,
      quantity,
      change: effect[k]![observation]! * TO_THE_END,
    }));
    const greatest = Math.max(0, ...all.map(({ change }) => Math.abs(change)));
    return all
      .filter(({ change }) => change !== 0 && Math.abs(change) >= LEAST_SHARE * greatest)
      .toSorted((a, b) => Math.abs(b.change) - Math.abs(a.change))
      .slice(0, MOST);
  };
  const { nets, transistors, paths } = observer.observed;
  return {
    mode: mode.name,
    nets: Object.fromEntries(nets.map((net, k) => [circuit.nets[net]!.name, at(k)])),
    transistors: Object.fromEntries(
      transistors.map((part, k) => [circuit.parts[part]!.name, at(nets.length + k)]),
    ),
    paths: Object.fromEntries(paths.map(({ name }, k) => [name, at(nets.length + transistors.length + k)])),
  };
}
