import type { Circuit, PartState } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import { kindOf } from "../../parts/index.ts";
import { type Network, reshape } from "../network.ts";
import { Integrator, type IntegratorOptions } from "./integrator.ts";
import { valueAt, weightsAt } from "./interpolation.ts";
import { TimeSystem } from "./time-system.ts";

/** What a part did of itself. */
export interface Happening {
  readonly seconds: number;
  readonly what: string;
  readonly then: PartState;
}

/** How a step ended: taken, taken with a part switching at its end, or impossible. */
export type StepEnd = "taken" | Happening | "stuck";

/** A quantity that makes a part switch when it passes from at most 0 to above. */
interface Watch {
  readonly unknown: number;
  readonly sign: number;
  readonly level: number;
  readonly what: string;
  readonly then: PartState;
}

/** A passing is located to this share of the step. */
const LOCATED = 1e-9;

/**
 * A circuit running in time: its switches turn, its batteries go on and off, its values change, and parts
 * that switch of themselves do so at the right moment.
 */
export class TimeRun {
  readonly network: Network;
  readonly system: TimeSystem;
  readonly integrator: Integrator;
  #watches: readonly Watch[];
  readonly #before: Float64Array;

  constructor(network: Network, state: Float64Array, options: IntegratorOptions) {
    this.network = network;
    this.system = new TimeSystem(network);
    this.integrator = new Integrator(this.system, state, options);
    this.#watches = watchesOf(network);
    this.#before = state.slice();
  }

  get seconds(): number {
    return this.integrator.now.seconds;
  }

  get state(): Float64Array {
    return this.integrator.now.state;
  }

  get circuit(): Circuit {
    return this.network.circuit;
  }

  /**
   * Changes parts at the time reached; charges and fluxes stay, all else follows at once. Returns false if
   * the circuit so changed has no solution.
   */
  turn(states: readonly PartState[]): boolean {
    const free = reshape(this.network, withPartStates(this.circuit, states));
    if (free === undefined) return false;
    this.system.hold(free.held);
    this.#watches = watchesOf(this.network);
    return this.integrator.restart();
  }

  /** One step, at most to `until`; shorter where a part switches of itself, which is then done. */
  step(until: number): StepEnd {
    this.#before.set(this.state);
    if (!this.integrator.advance(until)) return "stuck";
    const first = this.#firstPassing();
    if (first === undefined) return "taken";
    this.integrator.retreat();
    while (this.seconds < first.seconds) if (!this.integrator.advance(first.seconds)) return "stuck";
    return this.turn([first.watch.then])
      ? { seconds: this.seconds, what: first.watch.what, then: first.watch.then }
      : "stuck";
  }

  #firstPassing(): { readonly seconds: number; readonly watch: Watch } | undefined {
    const passings = this.#watches
      .filter((watch) => excess(watch, this.#before) <= 0 && excess(watch, this.state) > 0)
      .map((watch) => ({ watch, seconds: this.#passing(watch) }));
    return passings.sort((a, b) => a.seconds - b.seconds)[0];
  }

  /** When a watched unknown passes its level within the last step, by bisection on the interpolation. */
  #passing({ unknown, sign, level }: Watch): number {
    const { points, now } = this.integrator;
    const start = points.at(-3) ?? now;
    let [early, late] = [start.seconds, now.seconds];
    const width = LOCATED * (late - early);
    while (late - early > width) {
      const middle = (early + late) / 2;
      if (middle <= early || middle >= late) break;
      const passed = sign * (valueAt(points, weightsAt(points, middle), unknown) - level) > 0;
      if (passed) late = middle;
      else early = middle;
    }
    return late;
  }
}

const excess = ({ unknown, sign, level }: Watch, state: Float64Array): number =>
  sign * (state[unknown]! - level);

function watchesOf({ circuit, unknowns }: Network): Watch[] {
  return circuit.parts.flatMap((part) =>
    (kindOf(part).triggers?.(part, circuit) ?? []).flatMap(({ of, local, level, upwards, what, then }) => {
      const owner = circuit.parts.findIndex(({ name }) => name === of);
      const unknown = unknowns.locals[owner]?.[local];
      return unknown === undefined ? [] : [{ unknown, sign: upwards ? 1 : -1, level, what, then }];
    }),
  );
}
