/** The bias resistor that brings the collector current back to what it was. */
import type { Circuit, Part, PartState } from "../../circuit/circuit.ts";
import { modesOf, withPartStates } from "../../circuit/conditions.ts";
import { ZERO_CELSIUS } from "../../devices/constants.ts";
import { currentInto } from "../../engine/currents.ts";
import { isSolved, OperatingPointSolver } from "../../engine/operating-point.ts";
import type { Conditions } from "../conditions.ts";
import { nearestPreferred } from "../preferred-values.ts";
import { type Read, root } from "../root.ts";
import { networkIn } from "../run.ts";
import { baseResistors } from "./nets.ts";

const COLLECTOR = 2;
/** Step over which the effect of a resistor is felt, nepers, and that of the search. */
const FELT = 0.05;
const STRIDE = 0.2;
/** So many strides: a resistance up to 150 times as great or as small. */
const MOST_STRIDES = 25;
/** How near the current is brought to what it was, nepers. */
const ACCURACY = 1e-10;

export interface BiasResistor {
  readonly resistor: string;
  readonly ohms: number;
  readonly exact: number;
  readonly preferred: number;
}

/** The circuit with the candidate in place, in one mode, as a function of one resistance. */
class BiasBench {
  readonly #solver: OperatingPointSolver;
  readonly #circuit: Circuit;
  readonly #part: number;
  #state: Float64Array | undefined;

  constructor(
    circuit: Circuit,
    mode: string,
    conditions: Conditions,
    states: readonly PartState[],
    part: number,
  ) {
    const found = modesOf(circuit).find(({ name }) => name === mode)!;
    const set = [...(conditions.set ?? []), ...states];
    this.#solver = new OperatingPointSolver(networkIn(circuit, found, { ...conditions, set }));
    this.#circuit = this.#solver.network.circuit;
    this.#part = part;
  }

  get circuit(): Circuit {
    return this.#circuit;
  }

  /** Collector current's size with `resistor` at so many ohms, A; nothing where there is no solution. */
  current(resistor: string, ohms: number): number | undefined {
    const circuit = withPartStates(this.#circuit, [{ part: resistor, key: "resistance", value: ohms }]);
    if (!this.#solver.retune(circuit, this.#solver.network.ambientKelvin - ZERO_CELSIUS)) return undefined;
    const point = this.#solver.solve(this.#state);
    if (!isSolved(point)) return undefined;
    this.#state = point.state.slice();
    return Math.abs(currentInto(point.currents, this.#part, COLLECTOR));
  }

  /** Puts back what was changed. */
  restore(resistor: Part): void {
    this.current(resistor.name, resistor.values.resistance!);
  }
}

/**
 * Of the resistors at the base, the one that need be changed least to bring the collector current to `wanted`
 * (A, without sign): it has the strongest effect. Exactly, and as the nearest E12 value.
 */
export function biasResistor(
  circuit: Circuit,
  conditions: Conditions,
  states: readonly PartState[],
  { part, mode, wanted }: { readonly part: number; readonly mode: string; readonly wanted: number },
): BiasResistor | undefined {
  const bench = new BiasBench(circuit, mode, conditions, states, part);
  const resistors = baseResistors(bench.circuit, bench.circuit.parts[part]!);
  const found = resistors.flatMap((resistor) => {
    const ohms = resistor.values.resistance!;
    const exact = restoring(bench, resistor, wanted);
    bench.restore(resistor);
    return exact === undefined ? [] : [{ resistor: resistor.name, ohms, exact }];
  });
  const distance = ({ ohms, exact }: { ohms: number; exact: number }) => Math.abs(Math.log(exact / ohms));
  const [best] = found.toSorted((a, b) => distance(a) - distance(b));
  return best && { ...best, preferred: nearestPreferred(best.exact, "E12") };
}

/** The resistance that brings the collector current to `wanted`; nothing where none within reach does. */
function restoring(bench: BiasBench, resistor: Part, wanted: number): number | undefined {
  const ohms = resistor.values.resistance!;
  const [less, more] = [-FELT, FELT].map((step) => bench.current(resistor.name, ohms * Math.exp(step)));
  if (less === undefined || more === undefined || !(less > 0) || !(more > 0) || less === more) {
    return undefined;
  }
  const miss = (value: number) => {
    const amps = bench.current(resistor.name, value);
    return amps === undefined || !(amps > 0) ? undefined : Math.log(amps / wanted);
  };
  return solved(miss, ohms, Math.sign(more - less));
}

/** The resistance at which `miss` is 0, walking from `ohms` the way that makes it smaller, then closing in. */
function solved(miss: Read, ohms: number, rising: number): number | undefined {
  const at = (logarithm: number) => miss(Math.exp(logarithm));
  const start = Math.log(ohms);
  const first = miss(ohms);
  if (first === undefined || first === 0) return first === undefined ? undefined : ohms;
  const stride = first > 0 === rising > 0 ? -STRIDE : STRIDE;
  for (let k = 0; k < MOST_STRIDES; k++) {
    const [near, far] = [start + k * stride, start + (k + 1) * stride];
    const there = at(far);
    if (there === undefined) return undefined;
    if (there > 0 === first > 0) continue;
    const found = root(at, near, far, ACCURACY);
    return found === undefined ? undefined : Math.exp(found);
  }
  return undefined;
}
