import { CurrentMeter } from "../../engine/currents.ts";
import { type Phasor, SmallSignal } from "../../engine/small-signal.ts";
import { reader } from "../output.ts";
import { decibels } from "../response.ts";
import type { Plant } from "./plant.ts";

/** Gains at one state of a plant; nothing is made before the first is read. */
export class Gains {
  readonly #plant: Plant;
  readonly #state: Float64Array;
  #smallSignal: SmallSignal | undefined;

  constructor(plant: Plant, state: Float64Array) {
    this.#plant = plant;
    this.#state = state;
  }

  /** Gain of a path at a frequency, dB; −400 where there is none. */
  read(pathName: string, hertz: number): number {
    const { network } = this.#plant;
    const path = network.circuit.paths.find(({ name }) => name === pathName)!;
    this.#smallSignal ??= new SmallSignal(pointAt(this.#plant, this.#state));
    const smallSignal = this.#smallSignal;
    if (smallSignal.tune(hertz) !== undefined) return decibels({ re: 0, im: 0 });
    smallSignal.drive(network.circuit.parts.findIndex(({ name }) => name === path.from));
    const out: Phasor = reader(smallSignal, path)();
    return decibels(out);
  }
}

function pointAt({ network }: Plant, state: Float64Array) {
  const currents = new CurrentMeter(network).read(state);
  return { network, state, currents, residual: 0, steps: 0 };
}
