import type { Circuit, SignalPath } from "../circuit/circuit.ts";
import { type Phasor, SmallSignal, type Term } from "../engine/small-signal.ts";
import { type SweepStop, sweep } from "../engine/sweep.ts";
import type { Conditions } from "./conditions.ts";
import { outputTerms } from "./output.ts";

import type { Failure, PathResponse } from "./results.ts";
import { type Answer, chosenModes, inEachMode, type SolvedMode } from "./run.ts";

export interface ResponseConditions extends Conditions {
  /** Names of paths; all if not given. */
  readonly paths?: readonly string[];
}

/**
 * Gain and phase of every path at the given frequencies (Hz), over the circuit linearised at the
 * operating point of the path's mode.
 */
export function response(
  circuit: Circuit,
  conditions: ResponseConditions,
  hertz: readonly number[],
): Answer<PathResponse> {
  const paths = circuit.paths.filter(({ name }) => conditions.paths?.includes(name) ?? true);
  const modes = chosenModes(circuit, conditions)
    .map(({ name }) => name)
    .filter((mode) => paths.some((path) => runsIn(path, mode)));
  return inEachMode(circuit, { ...conditions, modes }, (solved) =>
    sweepPaths(
      solved,
      paths.filter((path) => runsIn(path, solved.mode.name)),
      hertz,
    ),
  );
}

export const runsIn = (path: SignalPath, mode: string) => path.mode === undefined || path.mode === mode;

interface Trace {
  readonly path: SignalPath;
  readonly source: number;
  readonly output: readonly Term[];
  readonly gain: Phasor[];
}

/** The paths of one solved mode at these frequencies (Hz); one failure if nothing determines the circuit there. */
export function sweepPaths(
  { mode, circuit, point }: SolvedMode,
  paths: readonly SignalPath[],
  hertz: readonly number[],
  smallSignal: SmallSignal = new SmallSignal(point),
): Answer<PathResponse> {
  const traces = paths.map(
    (path): Trace => ({
      path,
      source: circuit.parts.findIndex(({ name }) => name === path.from),
      output: outputTerms(smallSignal, path),
      gain: [],
    }),
  );
  const stop = sweep(smallSignal, hertz, (_first, lanes) => readTraces(smallSignal, traces, lanes));
  if (stop !== undefined) return { results: [], failures: [undeterminedAt(stop, mode.name, smallSignal)] };
  return { results: traces.map((trace) => resultOf(trace, mode.name, hertz)), failures: [] };
}

/** Gain of 0 is shown as this, dB: a logarithm has no other end. */
const NO_GAIN_DB = -400;

export const decibels = ({ re, im }: Phasor): number => {
  const size = Math.hypot(re, im);
  return size > 0 ? Math.max(NO_GAIN_DB, 20 * Math.log10(size)) : NO_GAIN_DB;
};

/** Reads every path at the one or two frequencies tuned to. */
function readTraces(smallSignal: SmallSignal, traces: readonly Trace[], lanes: 1 | 2): void {
  let driven = -1;
  for (const { source, output, gain } of traces) {
    if (source !== driven) smallSignal.drive(source);
    driven = source;
    gain.push(smallSignal.combine(output));
    if (lanes === 2) gain.push(smallSignal.combine(output, 1));
  }
}

function resultOf({ path, gain }: Trace, mode: string, hertz: readonly number[]): PathResponse {
  return {
    path: path.name,
    mode,
    from: path.from,
    to: path.toText,
    quantity: "net" in path.to ? "voltage" : path.to.quantity,
    hertz: [...hertz],
    gain_db: gain.map(decibels),
    phase_degrees: gain.map(({ re, im }) => (Math.atan2(im, re) * 180) / Math.PI),
    real: gain.map(({ re }) => re),
    imag: gain.map(({ im }) => im),
  };
}

export function undeterminedAt(
  { hertz, undetermined }: SweepStop,
  mode: string,
  { network }: SmallSignal,
): Failure {
  const name = network.unknowns.list[undetermined[0] ?? 0]?.name ?? "an unknown";
  return {
    kind: "no solution",
    mode,
    message: `mode ${mode}: at ${hertz} Hz nothing determines ${name}`,
    hint: "look for a winding without resistance across a source without resistance",
  };
}

export interface FrequencyRange {
  readonly from: number;
  readonly to: number;
  readonly pointsPerOctave: number;
}

/**
 * Frequencies in Hz from `from` to `to`, both included, so many to the octave, on a grid through 1 kHz
 * so that it is always among them.
 */
export function preferredFrequencies({ from, to, pointsPerOctave }: FrequencyRange): number[] {
  const first = Math.ceil(pointsPerOctave * Math.log2(from / 1000) - 1e-9);
  const last = Math.floor(pointsPerOctave * Math.log2(to / 1000) + 1e-9);
  const grid = Array.from(
    { length: Math.max(0, last - first + 1) },
    (_, k) => 1000 * 2 ** ((first + k) / pointsPerOctave),
  );
  const near = (a: number, b: number) => Math.abs(a / b - 1) < 1e-6;
  const ends = [from, to].filter((end) => !grid.some((f) => near(f, end)));
  return [...new Set([...grid, ...ends])].sort((a, b) => a - b);
}
