import type { SignalPath } from "../../circuit/circuit.ts";
import { currentInto } from "../../engine/currents.ts";
import type { SolvedPoint } from "../../engine/operating-point.ts";
import { type Phasor, SmallSignal } from "../../engine/small-signal.ts";
import { reader } from "../output.ts";
import { decibels } from "../response.ts";
import type { SolvedMode } from "../run.ts";

/** Where gains are compared, Hz. */
export const GAIN_HERTZ = 1000;

/** What is looked at in every specimen, in this order: nets, collector currents, gains. */
export interface Observed {
  /** Indices into `Circuit.nets`, chassis left out. */
  readonly nets: readonly number[];
  /** Indices into `Circuit.parts`. */
  readonly transistors: readonly number[];
  readonly paths: readonly SignalPath[];
}

const COLLECTOR = 2;

/** Reads all that is observed from one solved point after another of the same network. */
export class Observer {
  readonly observed: Observed;
  /** How many numbers an observation has. */
  readonly size: number;
  readonly #smallSignal: SmallSignal | undefined;
  readonly #gains: readonly { readonly source: number; readonly read: () => Phasor }[];

  constructor({ circuit, mode, point }: SolvedMode) {
    const free = new Set(point.network.freeAtDc.nets);
    this.observed = {
      nets: circuit.nets.flatMap((_, k) => (k === 0 || free.has(k) ? [] : [k])),
      transistors: circuit.parts.flatMap(({ kind }, k) => (kind === "transistor" ? [k] : [])),
      paths: circuit.paths.filter((path) => path.mode === undefined || path.mode === mode.name),
    };
    const { nets, transistors, paths } = this.observed;
    this.size = nets.length + transistors.length + paths.length;
    const smallSignal = paths.length === 0 ? undefined : new SmallSignal(point);
    this.#smallSignal = smallSignal;
    this.#gains =
      smallSignal === undefined
        ? []
        : paths.map((path) => ({
            source: circuit.parts.findIndex(({ name }) => name === path.from),
            read: reader(smallSignal, path),
          }));
  }

  /** Writes what is seen at `point` to `into`. Returns false if nothing determines a gain there. */
  observe({ network, state, currents }: SolvedPoint, into: Float64Array): boolean {
    const { nets, transistors } = this.observed;
    let k = 0;
    for (const net of nets) into[k++] = state[network.unknowns.net[net]!]!;
    for (const part of transistors) into[k++] = currentInto(currents, part, COLLECTOR);
    const smallSignal = this.#smallSignal;
    if (smallSignal === undefined) return true;
    smallSignal.linearise(state);
    if (smallSignal.tune(GAIN_HERTZ) !== undefined) return false;
    let driven = -1;
    for (const { source, read } of this.#gains) {
      if (source !== driven) smallSignal.drive(source);
      driven = source;
      into[k++] = decibels(read());
    }
    return true;
  }
}
