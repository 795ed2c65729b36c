import { readFileSync } from "node:fs";
import { reader } from "../../src/bench/output.ts";
import type { Circuit, SignalPath } from "../../src/circuit/circuit.ts";
import { inMode, modesOf } from "../../src/circuit/conditions.ts";
import { network } from "../../src/engine/network.ts";
import { isSolved, OperatingPointSolver, type SolvedPoint } from "../../src/engine/operating-point.ts";
import { type Phasor, SmallSignal } from "../../src/engine/small-signal.ts";
import { sweep } from "../../src/engine/sweep.ts";
import { readNetlist } from "../../src/language/index.ts";
import { ROOT } from "./root.ts";

const netlistOf = (name: string) => `${ROOT}netlists/${name}.netlist`;

export const RECORDER = netlistOf("recorder");

/** A demonstration circuit as data. */
export function demonstration(name: string): Circuit {
  const file = netlistOf(name);
  const reading = readNetlist(readFileSync(file, "utf8"), { file, files: () => undefined });
  if (reading.circuit === undefined) throw new Error(`${name}.netlist has errors`);
  return reading.circuit;
}

export const recorder = (): Circuit => demonstration("recorder");

/** One mode of a circuit with everything that is kept from solution to solution. */
export interface Standing {
  readonly mode: string;
  readonly circuit: Circuit;
  readonly solver: OperatingPointSolver;
  readonly point: SolvedPoint;
  readonly smallSignal: SmallSignal;
  readonly path: SignalPath;
  /** Index into `Circuit.parts` of the path's source. */
  readonly source: number;
  /** The path's output at the frequency last solved for. */
  readonly output: (lane?: 0 | 1) => Phasor;
}

export const solverOf = (circuit: Circuit): OperatingPointSolver =>
  new OperatingPointSolver(network(circuit, { ambientCelsius: circuit.ambientCelsius, isothermal: false }));

/** A solution, or the end of the run. */
export function solved(solver: OperatingPointSolver, from?: Float64Array): SolvedPoint {
  const point = solver.solve(from);
  if (!isSolved(point)) throw new Error(`no operating point: ${point.failure}`);
  return point;
}

/** Every mode of a circuit, solved and ready for its first path. */
export const standings = (circuit: Circuit): Standing[] =>
  modesOf(circuit).map((mode): Standing => {
    const path = circuit.paths.find((one) => one.mode === undefined || one.mode === mode.name);
    if (path === undefined) throw new Error(`mode ${mode.name} has no path`);
    const standing = inMode(circuit, mode);
    const solver = solverOf(standing);
    const point = solved(solver);
    const smallSignal = new SmallSignal(point);
    return {
      mode: mode.name,
      circuit: standing,
      solver,
      point,
      smallSignal,
      path,
      source: circuit.parts.findIndex(({ name }) => name === path.from),
      output: reader(smallSignal, path),
    };
  });

/** Frequencies from 20 Hz to 20 kHz in equal ratios. */
export const frequencies = (count: number): number[] =>
  Array.from({ length: count }, (_, k) => 20 * 1000 ** (k / (count - 1)));

/** Solves for every frequency, two at a time as `response` does, and hands each gain to `read`. */
export function sweepOf(
  { smallSignal, source, output }: Standing,
  hertz: readonly number[],
  read: (k: number, gain: Phasor) => void,
): void {
  const stop = sweep(smallSignal, hertz, (first, lanes) => {
    smallSignal.drive(source);
    read(first, output(0));
    if (lanes === 2) read(first + 1, output(1));
  });
  if (stop !== undefined) throw new Error(`nothing determines an unknown at ${stop.hertz} Hz`);
}

/** Solves for one frequency; the order of elimination must hold. */
export function solveAt({ smallSignal, source }: Standing, hertz: number): void {
  if (smallSignal.tune(hertz) !== undefined) throw new Error(`nothing determines an unknown at ${hertz} Hz`);
  smallSignal.drive(source);
}
