import type { Circuit } from "../../circuit/circuit.ts";
import { growingFrequencies, pencilOf } from "../../engine/natural-frequencies.ts";
import { network } from "../../engine/network.ts";
import { isSolved, operatingPoint } from "../../engine/operating-point.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import { FOUND } from "../../parts/kind.ts";
import type { WaveformConditions } from "./conditions.ts";

/** A step is no longer than this share of the run. */
const SHARE = 1 / 50;
/** Nor is it longer than allows so many steps in a period of a tone. */
const PER_PERIOD = 32;
/** Nor, where something grows by itself, than allows so many steps in a radian of it: longer ones would step over a small swing. */
const PER_RADIAN = 2;

/** How long the steps of a run may be, as the circuit stands; known circuits are looked at once. */
export class LongestStep {
  readonly #conditions: WaveformConditions;
  readonly #plain: number;
  readonly #found = new Map<string, number>();

  constructor(conditions: WaveformConditions) {
    this.#conditions = conditions;
    this.#plain = Math.min(
      conditions.seconds * SHARE,
      ...conditions.tones.map(({ hertz }) => 1 / (PER_PERIOD * hertz)),
    );
  }

  /** For a circuit after so many events, s. */
  in(circuit: Circuit, events: number): number {
    const states = circuit.parts.map(({ choices }) => choices[FOUND] ?? "").join();
    const key = `${events} ${states}`;
    let longest = this.#found.get(key);
    if (longest === undefined) {
      longest = Math.min(this.#plain, 1 / (PER_RADIAN * this.#fastestGrowing(circuit)));
      this.#found.set(key, longest);
    }
    return longest;
  }

  /** Natural frequency of the fastest oscillation that builds up around the operating point, rad/s; 0 if none does. */
  #fastestGrowing(circuit: Circuit): number {
    const { ambientCelsius = circuit.ambientCelsius } = this.#conditions;
    const point = operatingPoint(network(circuit, { ambientCelsius, isothermal: true }));
    if (!isSolved(point)) return 0;
    const growing = growingFrequencies(pencilOf(new SmallSignal(point)));
    return Math.max(0, ...growing.filter(({ im }) => im !== 0).map(({ re, im }) => Math.hypot(re, im)));
  }
}
