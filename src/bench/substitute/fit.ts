/** One type fitted in one mode: operating point, and the figures of the paths through it. */
import type { Circuit, Mode, PartState, SignalPath } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import { ZERO_CELSIUS } from "../../devices/constants.ts";
import { type Network, retune } from "../../engine/network.ts";
import { isSolved, OperatingPointSolver } from "../../engine/operating-point.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import type { Conditions } from "../conditions.ts";
import { failureOf } from "../failure.ts";
import { pathHiss } from "../hiss/path-hiss.ts";
import type { Failure, VoltageChart } from "../results.ts";
import { chosenModes, networkIn, type SolvedMode } from "../run.ts";
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

/** A mode's equations, kept from one type to the next. */
interface Bench {
  readonly network: Network;
  smallSignal?: SmallSignal;
}

/** Fits one type after another: the equations of a mode are set up once and then given other values. */
export class Fitter {
  readonly #circuit: Circuit;
  readonly #conditions: Conditions;
  readonly #through: (solved: SolvedMode) => readonly string[];
  readonly #benches = new Map<string, Bench>();

  /** `through` names the paths to follow in each mode. */
  constructor(circuit: Circuit, conditions: Conditions, through: (solved: SolvedMode) => readonly string[]) {
    this.#circuit = circuit;
    this.#conditions = conditions;
    this.#through = through;
  }

  /** Solves the modes with `states` over everything else. */
  fit(states: readonly PartState[]): Fits {
    const found = chosenModes(this.#circuit, this.#conditions).map((mode) => this.#fitIn(mode, states));
    return {
      byMode: new Map(found.flatMap((one) => ("chart" in one ? [[one.mode, one] as const] : []))),
      failures: found.flatMap((one) => ("chart" in one ? [] : [one])),
    };
  }

  #fitIn(mode: Mode, states: readonly PartState[]): Fit | Failure {
    const bench = this.#bench(mode, states);
    // a solver of its own: the same type finds the same point to the last bit, whatever was tried before it
    const solver = new OperatingPointSolver(bench.network);
    const point = solver.solve();
    if (!isSolved(point)) return failureOf(point, mode.name);
    const solved = { mode, circuit: bench.network.circuit, point, solver };
    const names = this.#through(solved);
    if (bench.smallSignal === undefined) bench.smallSignal = new SmallSignal(point);
    else bench.smallSignal.linearise(point.state);
    return fitOf(solved, names, new PathMeter(solved, bench.smallSignal));
  }

  /** The mode's equations with these values in them; set up anew where the structure is another one. */
  #bench(mode: Mode, states: readonly PartState[]): Bench {
    const set = [...(this.#conditions.set ?? []), ...states];
    const kept = this.#benches.get(mode.name);
    if (kept !== undefined) {
      const standing = withPartStates(this.#circuit, [...mode.states, ...set]);
      const celsius = kept.network.ambientKelvin - ZERO_CELSIUS;
      if (retune(kept.network, standing, celsius)) return kept;
    }
    const made: Bench = { network: networkIn(this.#circuit, mode, { ...this.#conditions, set }) };
    this.#benches.set(mode.name, made);
    return made;
  }
}

function fitOf(solved: SolvedMode, names: readonly string[], meter: PathMeter): Fit {
  const paths = pathsIn(solved).filter(({ name }) => names.includes(name));
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
