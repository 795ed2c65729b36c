import type { Circuit } from "../../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../../devices/constants.ts";
import type { Pencil } from "../../engine/natural/pencil.ts";
import { type Mode, Refiner } from "../../engine/natural/refine.ts";
import { distance, size } from "../../engine/natural/vector.ts";
import { pencilOf } from "../../engine/natural-frequencies.ts";
import { isSolved } from "../../engine/operating-point.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import type { SolvedMode } from "../run.ts";

/** The circuit linearised with other values in it, from one neighbouring operating point to the next. */
export class Variation {
  readonly #solved: SolvedMode;
  readonly #celsius: number;
  readonly #smallSignal: SmallSignal;
  readonly #state: Float64Array;

  constructor(solved: SolvedMode) {
    this.#solved = solved;
    this.#celsius = solved.point.network.ambientKelvin - ZERO_CELSIUS;
    this.#smallSignal = new SmallSignal(solved.point);
    this.#state = solved.point.state.slice();
  }

  /** The pencil of a variant; nothing if it has no operating point. */
  pencil(circuit: Circuit): Pencil | undefined {
    const { solver } = this.#solved;
    if (!solver.retune(circuit, this.#celsius)) return undefined;
    const point = solver.solve(this.#state);
    if (!isSolved(point)) return undefined;
    this.#state.set(point.state);
    this.#smallSignal.linearise(point.state);
    return pencilOf(this.#smallSignal);
  }

  /** Puts the circuit back as it was; call it when done. */
  restore(): void {
    const { solver, circuit, point } = this.#solved;
    solver.retune(circuit, this.#celsius);
    this.#state.set(point.state);
    this.#smallSignal.linearise(point.state);
  }
}

/** A way from the circuit as it is (0) to the furthest variant (1). */
export type Way = (t: number) => Pencil | undefined;

const FIRST_STRIDE = 1 / 24;
const SHORTEST_STRIDE = 1 / 4096;
/** A mode that moves further than this in one stride, relative, may be another one. */
const NEIGHBOUR = 0.3;
const MOST_SECANTS = 40;
/** The end is known this closely, as a share of the way, or of |s|. */
const NARROW = 1e-7;

/** Where on the way the mode ceases to grow; nothing if it grows to the end of it. */
export function lastGrowth(way: Way, mode: Mode): number | undefined {
  let at = { t: 0, mode };
  let stride = FIRST_STRIDE;
  while (at.t < 1) {
    const t = Math.min(1, at.t + stride);
    const next = neighbour(way(t), at.mode);
    if (next === undefined) {
      stride /= 2;
      if (stride < SHORTEST_STRIDE) return at.t;
      continue;
    }
    if (next.s.re <= 0) return between(way, at, { t, mode: next });
    at = { t, mode: next };
    stride = Math.min(2 * stride, 1 / 8);
  }
  return undefined;
}

function neighbour(pencil: Pencil | undefined, from: Mode): Mode | undefined {
  const mode = pencil && new Refiner(pencil).refine(from.s, 0, from);
  return mode !== undefined && distance(mode.s, from.s) < NEIGHBOUR * size(from.s) ? mode : undefined;
}

interface Place {
  readonly t: number;
  readonly mode: Mode;
}

/** By secants, the end that stays too long weighing half (Illinois, Dowell & Jarratt 1971). */
function between(way: Way, inside: Place, outside: Place): number {
  let [low, high] = [inside, outside];
  let [growth, decay] = [low.mode.s.re, high.mode.s.re];
  let lastGrew: boolean | undefined;
  for (let step = 0; step < MOST_SECANTS && high.t - low.t > NARROW; step++) {
    const t = low.t + (growth / (growth - decay)) * (high.t - low.t);
    const mode = neighbour(way(t), low.mode);
    if (mode === undefined) break;
    if (Math.abs(mode.s.re) < NARROW * size(mode.s)) return t;
    const grew = mode.s.re > 0;
    if (grew) [low, growth] = [{ t, mode }, mode.s.re];
    else [high, decay] = [{ t, mode }, mode.s.re];
    if (grew === lastGrew && grew) decay /= 2;
    if (grew === lastGrew && !grew) growth /= 2;
    lastGrew = grew;
  }
  return low.t;
}
