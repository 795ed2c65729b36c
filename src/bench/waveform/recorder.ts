import type { Network } from "../../engine/network.ts";
import type { TimePoint } from "../../engine/time/collocation.ts";
import { weightsAt } from "../../engine/time/interpolation.ts";
import type { Trace } from "./traces.ts";

/** Values of traces at points in time; the oldest are forgotten beyond so many. */
export class History {
  seconds: Float64Array;
  values: Float64Array[];
  length = 0;
  readonly #most: number;

  constructor(traces: number, most: number, first = 1024) {
    this.#most = most;
    this.seconds = new Float64Array(Math.min(first, most));
    this.values = Array.from({ length: traces }, () => new Float64Array(Math.min(first, most)));
  }

  /** Makes room for one point more. */
  next(seconds: number): number {
    if (this.length === this.seconds.length) this.#room();
    this.seconds[this.length] = seconds;
    return this.length++;
  }

  #room(): void {
    if (this.length < this.#most) {
      const size = Math.min(this.#most, 2 * this.length);
      const grown = (old: Float64Array) => {
        const fresh = new Float64Array(size);
        fresh.set(old);
        return fresh;
      };
      this.seconds = grown(this.seconds);
      this.values = this.values.map(grown);
      return;
    }
    const half = this.length >> 1;
    for (const list of [this.seconds, ...this.values]) list.copyWithin(0, half);
    this.length -= half;
  }
}

/** Solver points kept for readings. */
const MOST_POINTS = 1_000_000;

/** Writes traces down, at even times for the results and at the solver's own points for the readings. */
export class Recorder {
  readonly traces: readonly Trace[];
  readonly outputs: History;
  readonly points: History;
  readonly #every: number;
  readonly #count: number;
  readonly #state: Float64Array;
  readonly #rate: Float64Array;
  readonly #needsRate: boolean;
  #next = 0;

  /** `count` intervals of `every` seconds. */
  constructor(network: Network, traces: readonly Trace[], every: number, count: number) {
    this.traces = traces;
    this.#every = every;
    this.#count = count;
    this.outputs = new History(traces.length, count + 2, count + 2);
    this.points = new History(traces.length, MOST_POINTS);
    this.#state = new Float64Array(network.unknowns.stateSize);
    this.#rate = new Float64Array(network.unknowns.stateSize);
    this.#needsRate = traces.some(({ needsRate }) => needsRate);
  }

  /** Where the next value is to be written down, s. */
  get nextOutput(): number {
    return this.#next > this.#count ? Number.POSITIVE_INFINITY : this.#next * this.#every;
  }

  /**
   * Takes the last step in: its middle and end, and every output before its end; with `last`, the one at its
   * end as well. What jumps at an event is written down as it is right after.
   */
  take(points: readonly TimePoint[], last: boolean): void {
    const end = points.at(-1)!.seconds;
    const fresh = points.length === 3 ? points : points.slice(-2);
    for (const { seconds } of fresh) this.#write(this.points, points, seconds);
    const slack = 1e-9 * this.#every;
    while (last ? this.nextOutput <= end + slack : this.nextOutput < end - slack) {
      this.#write(this.outputs, points, Math.min(this.nextOutput, end));
      this.#next++;
    }
  }

  #write(into: History, points: readonly TimePoint[], seconds: number): void {
    const place = into.next(seconds);
    const exact = points.find((point) => point.seconds === seconds);
    const state = exact !== undefined && !this.#needsRate ? exact.state : this.#between(points, seconds);
    for (let k = 0; k < this.traces.length; k++)
      into.values[k]![place] = this.traces[k]!.read(state, this.#rate);
  }

  /** State and its rate of change between the points. */
  #between(points: readonly TimePoint[], seconds: number): Float64Array {
    const weights = weightsAt(points, seconds);
    const slopes = this.#needsRate ? slopesAt(points, seconds) : weights;
    const state = this.#state.fill(0);
    const rate = this.#rate.fill(0);
    points.forEach((point, p) => {
      const [w, d] = [weights[p]!, slopes[p]!];
      for (let k = 0; k < state.length; k++) {
        state[k]! += w * point.state[k]!;
        rate[k]! += d * point.state[k]!;
      }
    });
    return state;
  }
}

/** Weights of the derivative of the polynomial through the points, at a time, 1/s. */
function slopesAt(points: readonly TimePoint[], seconds: number): number[] {
  return points.map((point) => {
    const others = points.filter((other) => other !== point);
    return others.reduce((sum, left) => {
      const product = others.reduce(
        (all, other) =>
          other === left ? all : (all * (seconds - other.seconds)) / (point.seconds - other.seconds),
        1,
      );
      return sum + product / (point.seconds - left.seconds);
    }, 0);
  });
}
