import type { Circuit } from "../circuit/circuit.ts";
import { kindOf } from "../parts/index.ts";
import { fadingShunt, ramp, risingSupplies } from "./continuation.ts";
import { CurrentMeter, type PinCurrents } from "./currents.ts";
import { type Continuation, DcSystem, WHOLE } from "./dc-system.ts";
import { Heating, type Runaway } from "./heating.ts";
import { type Network, restingState, retune, setFixedTemperatures } from "./network.ts";
import { Newton, type NewtonOutcome } from "./newton.ts";
import { type Hunting, settleStates } from "./self-states.ts";

/** A solution that meets the criterion, or the reason why there is none. */
export type OperatingPoint = SolvedPoint | UnsolvedPoint;

export interface SolvedPoint {
  readonly network: Network;
  /** Volts, amperes and kelvins by state number (see `Unknowns`). */
  readonly state: Float64Array;
  /** Current into each pin of each part, A. */
  readonly currents: PinCurrents;
  /** Largest Kirchhoff residual of any net, A. */
  readonly residual: number;
  /** Newton steps taken in all. */
  readonly steps: number;
  /** Parts that no state of theirs leaves at rest; the point is that with these in their state at rest. */
  readonly hunting?: readonly Hunting[];
}

export interface UnsolvedPoint {
  readonly network: Network;
  readonly failure: "not converged" | "undetermined" | "thermal runaway";
  /** Number of the unknown at which it hangs. */
  readonly hangsAt?: number;
  readonly runaway?: Runaway;
}

export const isSolved = (point: OperatingPoint): point is SolvedPoint => "state" in point;

const MOST_STEPS = 80;
const MOST_STEPS_WARM = 20;
const AT_AMBIENT: Continuation = { ...WHOLE, heating: 0 };

/**
 * Solves operating points of one network again and again: the order of elimination and all arrays
 * are kept, and a neighbouring solution is a good place to start.
 */
export class OperatingPointSolver {
  readonly network: Network;
  readonly system: DcSystem;
  readonly #newton: Newton;
  readonly #currents: CurrentMeter;
  readonly #heating: Heating;
  /** Whether there are parts that change state of their own accord. */
  readonly #changesState: boolean;
  /** The circuit whose stamps the system holds. */
  #stamped: Circuit;

  constructor(network: Network) {
    this.network = network;
    this.system = new DcSystem(network);
    this.#newton = new Newton(this.system);
    this.#currents = new CurrentMeter(network);
    this.#heating = new Heating(this.#newton);
    this.#stamped = network.circuit;
    this.#changesState = network.circuit.parts.some((part) => kindOf(part).events !== undefined);
  }

  /**
   * Puts other values into the network (see `retune`). Returns false if the structure is not the same;
   * the solver is then of no more use.
   */
  retune(circuit: Circuit, ambientCelsius: number): boolean {
    if (!retune(this.network, circuit, ambientCelsius)) return false;
    this.system.restamp();
    this.#stamped = this.network.circuit;
    this.#heating.refresh();
    return true;
  }

  /**
   * The operating point, from rest or from a neighbouring state. Parts that change state of their own accord
   * are in one that the solution leaves them in, as far as there is one.
   */
  solve(from?: Float64Array): OperatingPoint {
    if (!this.#changesState) return this.#solveAsItStands(from);
    return settleStates(this.network, () => {
      if (this.network.circuit !== this.#stamped) this.system.restamp();
      this.#stamped = this.network.circuit;
      return this.#solveAsItStands(from);
    });
  }

  #solveAsItStands(from?: Float64Array): OperatingPoint {
    const before = this.#newton.steps;
    const { network } = this;
    if (from !== undefined) {
      const state = from.slice();
      setFixedTemperatures(network, state);
      if (this.#newton.solve(state, WHOLE, MOST_STEPS_WARM).end === "converged") {
        const point = this.#accept(state, before);
        if (isSolved(point) && !this.#heating.pastLimit(state)) return point;
      }
    }
    const state = restingState(network);
    const failed = this.#atAmbient(state);
    if (failed !== undefined) {
      const failure = failed.end === "undetermined" ? "undetermined" : "not converged";
      return { network, failure, hangsAt: failed.hangsAt };
    }
    const runaway = this.#heating.heat(state);
    if (runaway !== undefined) return { network, failure: "thermal runaway", runaway };
    return this.#accept(state, before);
  }

  /**
   * The operating point with `siemens` from a net (index into `Circuit.nets`) to chassis, starting
   * from the point without: a meter put to it.
   */
  solveLoaded(net: number, siemens: number, from: Float64Array): OperatingPoint {
    this.system.connectMeter(net, siemens);
    const point = this.solve(from);
    this.system.connectMeter(net, 0);
    return point;
  }

  /** The point with all junctions at ambient: plainly, then by each continuation in turn. */
  #atAmbient(state: Float64Array): NewtonOutcome | undefined {
    const plain = this.#newton.solve(state, AT_AMBIENT, MOST_STEPS);
    if (plain.end === "converged") return undefined;
    let failure = plain;
    for (const path of [risingSupplies, fadingShunt]) {
      state.set(restingState(this.network));
      const outcome = ramp(this.#newton, state, path);
      if (outcome.reached === 1) return undefined;
      failure = outcome.failure ?? failure;
    }
    return failure;
  }

  #meterCurrent(state: Float64Array) {
    const { net, siemens } = this.system.meter;
    return { net, amps: siemens * state[this.network.unknowns.net[net]!]! };
  }

  #accept(state: Float64Array, stepsBefore: number): OperatingPoint {
    const { network } = this;
    const currents = this.#currents.read(state);
    const { residual, worstNet } = this.#currents.check(currents, this.#meterCurrent(state));
    if (worstNet !== undefined)
      return { network, failure: "not converged", hangsAt: network.unknowns.net[worstNet]! };
    return { network, state, currents, residual, steps: this.#newton.steps - stepsBefore };
  }
}

/** The operating point of a network, once. */
export const operatingPoint = (network: Network): OperatingPoint => new OperatingPointSolver(network).solve();
