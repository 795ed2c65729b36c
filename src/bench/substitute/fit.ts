/** One type fitted in one mode: operating point, and the figures of the paths through it. */
import type { Circuit, PartState, SignalPath } from "../../circuit/circuit.ts";
import type { Conditions } from "../conditions.ts";
import { pathHiss } from "../hiss/path-hiss.ts";
import type { Failure, VoltageChart } from "../results.ts";
import { inEachMode, type SolvedMode } from "../run.ts";
import { chartOf } from "../voltages.ts";
import { PathMeter, pathsIn } from "./path-meter.ts";
import type { PathFigures } from "./results.ts";

export interface Fit {
  readonly mode: string;
  /** With the type in place and the mode's switches set. */
  readonly circuit: Circuit;
  readonly chart: VoltageChart;
  readonly paths: Readonly<Record<string, PathFigures>>;
}

/** The modes with something changed, and why others have no operating point. */
export interface Fits {
  readonly byMode: ReadonlyMap<string, Fit>;
  readonly failures: readonly Failure[];
}

/** Solves the modes with `states` over everything else; `through` names the paths to follow in each. */
export function fit(
  circuit: Circuit,
  conditions: Conditions,
  states: readonly PartState[],
  through: (solved: SolvedMode) => readonly string[],
): Fits {
  const set = [...(conditions.set ?? []), ...states];
  const { results, failures } = inEachMode(circuit, { ...conditions, set }, (solved) => ({
    results: [fitOf(solved, through(solved))],
    failures: [],
  }));
  return { byMode: new Map(results.map((one) => [one.mode, one])), failures };
}

function fitOf(solved: SolvedMode, names: readonly string[]): Fit {
  const paths = pathsIn(solved).filter(({ name }) => names.includes(name));
  const meter = new PathMeter(solved);
  const figures = paths.flatMap((path) => {
    const found = meter.figures(path);
    if (found === undefined) return [];
    return [[path.name, { ...found, ...noiseOf(solved, path, meter) }] as const];
  });
  return {
    mode: solved.mode.name,
    circuit: solved.circuit,
    chart: chartOf(solved),
    paths: Object.fromEntries(figures),
  };
}

/** To some 1e-4, which is far closer than two transistors of a type are. */
function noiseOf(
  solved: SolvedMode,
  path: SignalPath,
  { smallSignal }: PathMeter,
): Pick<PathFigures, "input_noise_volts_rms"> {
  const hiss = pathHiss(solved, path, { tolerance: Infinity, smallSignal });
  const volts = "path" in hiss ? hiss.weighted["ITU-R 468"].input_volts_rms : undefined;
  return volts === undefined ? {} : { input_noise_volts_rms: volts };
}
