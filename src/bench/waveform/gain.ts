import type { Circuit } from "../../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../../devices/constants.ts";
import { network } from "../../engine/network.ts";
import { isSolved, operatingPoint, type SolvedPoint } from "../../engine/operating-point.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import type { TimeRun } from "../../engine/time/run.ts";
import { reader } from "../output.ts";
import { runsIn } from "../response.ts";
import type { PathReading } from "./results.ts";

/** Where the gain is looked at, Hz. */
const HERTZ = 1000;
/** How often it is looked at in a run. */
const SNAPSHOTS = 400;
/** The output is there when its gain is within so many decibels of the final one. */
const WITHIN = 1;
const SILENCE = -400;

interface Follower {
  readonly path: Circuit["paths"][number];
  readonly source: number;
  readonly gain: number[];
}

const decibels = (re: number, im: number) => Math.max(SILENCE, 20 * Math.log10(Math.hypot(re, im)));

/**
 * The small-signal gain of every path at 1 kHz, over the circuit linearised where it is on its way. Unlike a
 * test tone it is not buried under the transient, and it needs no filter that would ring itself.
 */
export class Snapshots {
  readonly seconds: number[] = [];
  readonly followers: readonly Follower[];
  readonly run: TimeRun;
  readonly #every: number;
  #smallSignal: SmallSignal | undefined;
  #next = 0;

  constructor(run: TimeRun, mode: string, seconds: number) {
    const { circuit } = run;
    this.run = run;
    this.#every = seconds / SNAPSHOTS;
    this.followers = circuit.paths
      .filter((path) => runsIn(path, mode))
      .map((path) => ({ path, source: circuit.parts.findIndex(({ name }) => name === path.from), gain: [] }));
  }

  /** After a switch has been turned: other nodes may hang free. */
  restart(): void {
    this.#smallSignal = undefined;
  }

  /** Looks at the gain if it is time to. */
  take(): void {
    if (this.followers.length === 0 || this.run.seconds < this.#next) return;
    this.#next = this.run.seconds + this.#every;
    const { network: standing, state } = this.run;
    if (this.#smallSignal === undefined) this.#smallSignal = new SmallSignal(asPoint(standing, state));
    else this.#smallSignal.linearise(state);
    this.seconds.push(this.run.seconds);
    for (const follower of this.followers) follower.gain.push(gainOf(this.#smallSignal, follower));
  }
}

const asPoint = (standing: SolvedPoint["network"], state: Float64Array) =>
  ({ network: standing, state }) as SolvedPoint;

function gainOf(smallSignal: SmallSignal, { path, source }: Follower): number {
  if (smallSignal.tune(HERTZ) !== undefined) return SILENCE;
  const read = reader(smallSignal, path);
  smallSignal.drive(source);
  const { re, im } = read();
  return decibels(re, im);
}

/** How the gain of every path came up; none where the circuit has no operating point to come to. */
export function pathReadings({ followers, seconds, run }: Snapshots, isothermal: boolean): PathReading[] {
  if (followers.length === 0 || seconds.length === 0) return [];
  const { circuit, ambientKelvin } = run.network;
  const point = operatingPoint(
    network(circuit, { ambientCelsius: ambientKelvin - ZERO_CELSIUS, isothermal }),
  );
  if (!isSolved(point)) return [];
  const smallSignal = new SmallSignal(point);
  return followers.map((follower) => {
    const final = gainOf(smallSignal, follower);
    const mute = muteUntil(seconds, follower.gain, final);
    return {
      path: follower.path.name,
      seconds,
      gain_db: follower.gain,
      final_gain_db: final,
      ...(mute !== undefined && { mute_seconds: mute }),
    };
  });
}

/** When the gain comes within 1 dB of the final one, to stay: between two looks, by straight line. */
function muteUntil(seconds: readonly number[], gain: readonly number[], final: number): number | undefined {
  const off = (k: number) => Math.abs(gain[k]! - final) - WITHIN;
  const last = gain.findLastIndex((_, k) => off(k) > 0);
  if (last < 0) return 0;
  if (last === gain.length - 1) return undefined;
  const [a, b] = [off(last), off(last + 1)];
  return seconds[last]! + ((seconds[last + 1]! - seconds[last]!) * a) / (a - b);
}
