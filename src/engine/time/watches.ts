import type { PartState } from "../../circuit/circuit.ts";
import { kindOf } from "../../parts/index.ts";
import type { StateEvent } from "../../parts/kind.ts";
import type { Network } from "../network.ts";
import type { TimePoint } from "./collocation.ts";
import { valueAt, weightsAt } from "./interpolation.ts";

/** A passing is located to this share of the step. */
const LOCATED = 1e-9;

/** A part that switches of itself when a function of its unknowns rises above 0. */
export class Watch {
  readonly what: string;
  readonly becomes: PartState;
  readonly #locals: Int32Array;
  readonly #event: StateEvent;
  readonly #x: Float64Array;

  constructor(part: string, locals: Int32Array, event: StateEvent) {
    this.what = event.what;
    this.becomes = { part, key: event.key, value: event.value };
    this.#locals = locals;
    this.#event = event;
    this.#x = new Float64Array(locals.length);
  }

  /** Above 0 at a state, the part switches. */
  excess(state: Float64Array): number {
    for (let k = 0; k < this.#x.length; k++) this.#x[k] = state[this.#locals[k]!]!;
    return this.#event.excess(this.#x);
  }

  /** Just when it rises above 0 within the last step, by bisection on the interpolation between `points`. */
  passing(points: readonly TimePoint[]): number {
    let early = points.at(-3)!.seconds;
    let late = points.at(-1)!.seconds;
    const width = LOCATED * (late - early);
    while (late - early > width) {
      const middle = (early + late) / 2;
      if (middle <= early || middle >= late) break;
      if (this.#between(points, middle) > 0) late = middle;
      else early = middle;
    }
    return late;
  }

  #between(points: readonly TimePoint[], seconds: number): number {
    const weights = weightsAt(points, seconds);
    const { length } = points[0]!.state;
    for (let k = 0; k < this.#x.length; k++) {
      const unknown = this.#locals[k]!;
      this.#x[k] = unknown < length ? valueAt(points, weights, unknown) : 0;
    }
    return this.#event.excess(this.#x);
  }
}

/** What may switch of itself in a network as it stands. */
export const watchesOf = ({ circuit, unknowns }: Network): Watch[] =>
  circuit.parts.flatMap((part, k) =>
    (kindOf(part).events?.(part) ?? []).map((event) => new Watch(part.name, unknowns.locals[k]!, event)),
  );
