import type { Network } from "../../engine/network.ts";
import type { TimePoint } from "../../engine/time/collocation.ts";
import { weightsAt } from "../../engine/time/interpolation.ts";
import { Envelope } from "./envelope.ts";
import { History } from "./history.ts";
import type { Trace } from "./traces.ts";

/** Solver points kept for readings, and their values of all traces together. */
const MOST_POINTS = 1_000_000;
const MOST_VALUES = 20_000_000;

/** Writes traces down, at even times for the results and at the solver's own points for the readings. */
export class Recorder {
  readonly traces: readonly Trace[];
  readonly outputs: History;
  readonly points: History;
  readonly envelopes: readonly Envelope[];
  /** Distance of the values written down, s. */
  readonly every: number;
  readonly #count: number;
  readonly #state: Float64Array;
  readonly #rate: Float64Array;
  readonly #needsRate: boolean;
  readonly #read: Float64Array;
  #next = 0;

  /** `count` intervals of `every` seconds. */
  constructor(network: Network, traces: readonly Trace[], every: number, count: number) {
    this.traces = traces;
    this.every = every;
    this.#count = count;
    this.outputs = new History(traces.length, count + 2, count + 2);
    this.points = new History(traces.length, Math.min(MOST_POINTS, Math.floor(MOST_VALUES / traces.length)));
    this.envelopes = traces.map(() => new Envelope(count + 2));
    this.#state = new Float64Array(network.unknowns.stateSize);
    this.#rate = new Float64Array(network.unknowns.stateSize);
    this.#read = new Float64Array(traces.length);
    this.#needsRate = traces.some(({ needsRate }) => needsRate);
  }

  /** Where the next value is to be written down, s. */
  get nextOutput(): number {
    return this.#next > this.#count ? Number.POSITIVE_INFINITY : this.#next * this.every;
  }

  /**
   * Takes the last step in: its middle and end (and its start, where it is the first after a jump), and every
   * output before its end. What jumps at an event is written down as it is right after.
   */
  take(points: readonly TimePoint[]): void {
    const fresh = points.length === 3 ? points : points.slice(-2);
    const slack = 1e-9 * this.every;
    for (const { seconds } of fresh) {
      while (this.nextOutput < seconds - slack) this.#writeOutput(points, this.nextOutput);
      this.#readAt(points, seconds);
      this.#keep(this.points, seconds);
      for (let k = 0; k < this.traces.length; k++) this.envelopes[k]!.take(this.#read[k]!);
    }
  }

  /** The output at the very end of the run. */
  finish(points: readonly TimePoint[]): void {
    const end = points.at(-1)!.seconds;
    if (this.nextOutput <= end + 1e-9 * this.every) this.#writeOutput(points, end);
  }

  #writeOutput(points: readonly TimePoint[], seconds: number): void {
    this.#readAt(points, seconds);
    const place = this.#keep(this.outputs, seconds);
    for (let k = 0; k < this.traces.length; k++) this.envelopes[k]!.write(place, this.#read[k]!);
    this.#next++;
  }

  #keep(into: History, seconds: number): number {
    const place = into.next(seconds);
    for (let k = 0; k < this.traces.length; k++) into.values[k]![place] = this.#read[k]!;
    return place;
  }

  /** Every trace at a time within the points. */
  #readAt(points: readonly TimePoint[], seconds: number): void {
    const exact = points.find((point) => point.seconds === seconds);
    const state = exact !== undefined && !this.#needsRate ? exact.state : this.#between(points, seconds);
    for (let k = 0; k < this.traces.length; k++) this.#read[k] = this.traces[k]!.read(state, this.#rate);
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
