import type { Circuit, PartState } from "../../circuit/circuit.ts";
import { modesOf } from "../../circuit/conditions.ts";
import type { Conditions, Meter } from "../conditions.ts";
import type { Variable } from "../spread/variables.ts";
import { type Fault, faultsOf } from "./faults.ts";
import { Rig } from "./rig.ts";
import { Stand } from "./stand.ts";
import { uncertainties } from "./uncertain.ts";
import type { Weights } from "./weights.ts";

/** What makes a difference to what is seen, whatever was read. */
export interface WorkshopConditions extends Conditions {
  /** None: as if nothing loaded the circuit. */
  readonly meter?: Meter;
  readonly weights?: Weights;
}

/** Behind a mode's name: with the batteries out. */
const OFF = " off";

/** A circuit with all its faults, ready to be looked at in any mode; what was seen once is kept. */
export class Workshop {
  readonly circuit: Circuit;
  readonly faults: readonly Fault[];
  readonly variables: readonly Variable[];
  /** Largest voltage that any net may have, V. */
  readonly rail: number;
  readonly #rig: Rig;
  readonly #conditions: WorkshopConditions;
  readonly #stands = new Map<string, Stand>();
  readonly #index: ReadonlyMap<string, number>;

  constructor(circuit: Circuit, conditions: WorkshopConditions) {
    this.circuit = circuit;
    this.#conditions = conditions;
    this.#rig = new Rig(circuit);
    this.faults = faultsOf(circuit, this.#rig, conditions.weights);
    this.variables = uncertainties(circuit);
    this.#index = new Map(this.#rig.circuit.parts.map(({ name }, k) => [name, k]));
    const batteries = circuit.parts.filter(({ kind }) => kind === "battery");
    this.rail = batteries.reduce((sum, { values }) => sum + (values.emf ?? 0), 0) || 1;
  }

  /** Where a part, or one that a fault puts in, stands among the parts of all stands. */
  indexOf(part: string): number {
    return this.#index.get(part) ?? -1;
  }

  /** The circuit in a mode; `play off` is play with the batteries out. Throws a NoHealthyPoint. */
  stand(mode: string): Stand {
    let found = this.#stands.get(mode);
    if (found !== undefined) return found;
    const name = mode.endsWith(OFF) ? mode.slice(0, -OFF.length) : mode;
    const {
      ambientCelsius = this.circuit.ambientCelsius,
      isothermal = false,
      set = [],
      meter,
    } = this.#conditions;
    const own = modesOf(this.circuit).find((each) => each.name === name)!;
    const conditions = { ambientCelsius, isothermal, set, off: name !== mode, ...(meter && { meter }) };
    found = new Stand(this.#rig, own, conditions, this.variables);
    this.#stands.set(mode, found);
    return found;
  }
}

const known = new WeakMap<Circuit, Map<string, Workshop>>();

/** The workshop of a circuit under these conditions, the same one each time: the next reading finds all faults solved. */
export function workshopFor(circuit: Circuit, conditions: WorkshopConditions): Workshop {
  const { ambientCelsius, isothermal, set, meter, weights } = conditions;
  const key = JSON.stringify([
    ambientCelsius,
    isothermal,
    set satisfies readonly PartState[] | undefined,
    meter,
    weights,
  ]);
  const own = known.get(circuit) ?? new Map<string, Workshop>();
  known.set(circuit, own);
  const found = own.get(key) ?? new Workshop(circuit, conditions);
  own.set(key, found);
  return found;
}
