import type { Circuit } from "../../circuit/circuit.ts";
import { CurrentMeter, currentInto } from "../../engine/currents.ts";
import { type Continuation, DcSystem, WHOLE } from "../../engine/dc-system.ts";
import { type Network, type NetworkConditions, network, restingState, retune } from "../../engine/network.ts";
import { Newton } from "../../engine/newton.ts";

/** Newton steps from the healthy point, and those of the ways that are tried after. */
const STEPS = 30;
const MORE_STEPS = 60;
const AT_AMBIENT: Continuation = { ...WHOLE, heating: 0 };

/**
 * One mode of a rig, solved again and again with this or that changed. Faults that exchange pins are networks
 * of their own; all others keep the structure.
 */
export class Plant {
  readonly network: Network;
  readonly system: DcSystem;
  readonly #newton: Newton;
  readonly #ambientCelsius: number;
  #currents: CurrentMeter | undefined;

  constructor(circuit: Circuit, conditions: NetworkConditions) {
    this.network = network(circuit, conditions);
    this.system = new DcSystem(this.network);
    this.#newton = new Newton(this.system);
    this.#ambientCelsius = conditions.ambientCelsius;
  }

  /** Puts other values in. Parts, structure and order stay. */
  tune(circuit: Circuit): void {
    if (!retune(this.network, circuit, this.#ambientCelsius))
      throw new Error("a fault changed the structure");
    this.system.restamp();
    this.system.jacobian.startOver();
  }

  /**
   * The state, from a neighbouring one or from rest. Where the heat finds no balance the junctions stay at
   * ambient: what is read in the moment after switch-on. Nothing where there is none within few steps.
   */
  solve(from?: Float64Array, settled?: number): Float64Array | undefined {
    const tries: readonly [Float64Array | undefined, Continuation, number][] = [
      [from, WHOLE, STEPS],
      [from, AT_AMBIENT, MORE_STEPS],
      [undefined, AT_AMBIENT, MORE_STEPS],
    ];
    for (const [start, continuation, steps] of tries) {
      const state = start?.slice() ?? restingState(this.network);
      if (this.#newton.solve(state, continuation, steps, settled).end !== "converged") continue;
      if (start !== undefined && continuation === WHOLE) return state;
      const warm = state.slice();
      return this.#newton.solve(warm, WHOLE, STEPS).end === "converged" ? warm : this.#cold(state);
    }
    return undefined;
  }

  #cold(state: Float64Array): Float64Array {
    this.#newton.solve(state, AT_AMBIENT, STEPS);
    return state;
  }

  /**
   * What 1 A into each node (1 V in each branch's equation) does to the weighted sum of unknowns `weights`, at the
   * state solved last.
   */
  adjoint(weights: Float64Array, into: Float64Array): void {
    this.system.jacobian.adjoint(weights, into);
  }

  /** Current into a pin of a part at a state, A. */
  pinCurrent(state: Float64Array, part: number, pin: number): number {
    this.#currents ??= new CurrentMeter(this.network);
    return currentInto(this.#currents.read(state), part, pin);
  }
}
