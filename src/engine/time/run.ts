import type { Circuit, PartState } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import { type Network, reshape } from "../network.ts";
import type { TimePoint } from "./collocation.ts";
import { Integrator, type IntegratorOptions } from "./integrator.ts";
import { TimeSystem } from "./time-system.ts";
import { type Watch, watchesOf } from "./watches.ts";

/** What a part did of itself. */
export interface Happening {
  readonly seconds: number;
  readonly what: string;
}

/** A contact that would open and close more often than this at one moment has no state. */
const MOST_AT_ONCE = 20;

/**
 * A circuit running in time: its switches turn, its batteries go on and off, its values change, and parts
 * that switch of themselves do so at the right moment.
 */
export class TimeRun {
  readonly network: Network;
  readonly system: TimeSystem;
  readonly integrator: Integrator;
  /** What parts did of themselves since somebody last looked. */
  happenings: Happening[] = [];
  /** Is shown the points of every step that holds, before a part switches of itself at its end. */
  witness: ((points: readonly TimePoint[]) => void) | undefined;
  #watches: readonly Watch[];
  readonly #before: Float64Array;
  #restless = false;

  constructor(network: Network, state: Float64Array, options: IntegratorOptions) {
    this.network = network;
    this.system = new TimeSystem(network, state);
    this.integrator = new Integrator(this.system, state, options);
    this.#watches = watchesOf(network);
    this.#before = state.slice();
  }

  /** Whether the last failure was the circuit's: equations that contradict each other, or a part without rest. */
  get contradictory(): boolean {
    return this.#restless || this.integrator.undetermined;
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
   * Changes parts at the time reached; charges and fluxes stay, all else follows at once, and so do parts
   * that switch of themselves. Returns false if the circuit so changed has no solution.
   */
  turn(states: readonly PartState[]): boolean {
    let next = states;
    for (let count = 0; count < MOST_AT_ONCE; count++) {
      if (!this.#change(next)) return false;
      const due = this.#watches.find((watch) => watch.excess(this.state) > 0);
      if (due === undefined) return true;
      this.happenings.push({ seconds: this.seconds, what: due.what });
      next = [due.becomes];
    }
    this.#restless = true;
    return false;
  }

  #change(states: readonly PartState[]): boolean {
    if (states.length > 0) {
      if (!reshape(this.network, withPartStates(this.circuit, states))) return false;
      this.system.refresh();
      this.#watches = watchesOf(this.network);
    }
    return this.integrator.restart();
  }

  /** One step, at most to `until`, or to where a part switches of itself. Returns false if there is none. */
  step(until: number): boolean {
    if (this.#watches.length > 0) this.#before.set(this.state);
    if (!this.integrator.advance(until)) return false;
    const passings = this.#watches
      .filter((watch) => watch.excess(this.#before) <= 0 && watch.excess(this.state) > 0)
      .map((watch) => ({ watch, seconds: watch.passing(this.integrator.points) }));
    const first = passings.sort((a, b) => a.seconds - b.seconds)[0];
    if (first === undefined) {
      this.witness?.(this.integrator.points);
      return true;
    }
    this.integrator.retreat();
    while (this.seconds < first.seconds) {
      if (!this.integrator.advance(first.seconds)) return false;
      this.witness?.(this.integrator.points);
    }
    this.happenings.push({ seconds: this.seconds, what: first.watch.what });
    return this.turn([first.watch.becomes]);
  }
}
