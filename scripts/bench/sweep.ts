import { LuDecomposition } from "ml-matrix";
import { costOf } from "../../src/engine/kernel/elimination.ts";
import { frequencies, type Standing, solveAt, sweepOf } from "./demonstrations.ts";
import type { MultiplyAdd } from "./loops.ts";
import { mathjsContender } from "./mathjs.ts";
import { hasPython, PythonContender } from "./python.ts";
import { type Demand, type Findings, type Line, mustAgree } from "./results.ts";
import { type Contender, inProcess, interleave, named, type Timing } from "./sampling.ts";
import {
  denseMatrix,
  denseRightSide,
  denseSolution,
  differenceOf,
  type Solution,
  type Task,
  taskOf,
} from "./task.ts";

const POINTS = 400;
/** Points that the slow contenders solve for a sample, and that are compared with the dense reference. */
const FEW = 3;
const CHECKED = 20;
const ALLOWED = 1e-8;

const OURS = "preprobe";
const NUMPY = "numpy.linalg.solve, batched";
const SPLU = "scipy.sparse.linalg.splu";
const ML = "ml-matrix, dense LU";
const MATHJS = "mathjs, sparse lup and lusolve";

/** (a) The sweep of one mode's path over 400 frequencies, per point; factored and solved anew at each. */
export async function sweep(standing: Standing, multiplyAdd: MultiplyAdd): Promise<Findings> {
  const hertz = frequencies(POINTS);
  const task = taskOf(standing.smallSignal, standing.source, hertz);
  const python = hasPython();
  const numpy = python ? await new PythonContender("numpy", task).load() : undefined;
  const splu = python ? await new PythonContender("splu", task).load() : undefined;
  const mathjs = await mathjsContender(MATHJS, task, spaced(task, FEW).omegas);
  const timings = await interleave([
    ourContender(standing, hertz),
    ...(numpy ? [numpy.contender(NUMPY)] : []),
    ...(splu ? [splu.contender(SPLU)] : []),
    mlContender(task),
    mathjs.contender,
  ]);
  const unknowns = [...standing.point.network.unknowns.net.slice(1)];
  const check = checker(task, unknowns);
  const differences = new Map([
    [OURS, check(ourSolution(standing, hertz))],
    [MATHJS, check(mathjs.solution)],
  ]);
  for (const [name, contender] of [
    [NUMPY, numpy],
    [SPLU, splu],
  ] as const) {
    if (contender === undefined) continue;
    const { real, imag } = await contender.solutions();
    differences.set(
      name,
      check((k) => ({ re: real[k]!, im: imag[k]! })),
    );
    contender.close();
  }
  const limit = limitOf(standing, multiplyAdd);
  const lines = [OURS, NUMPY, SPLU, ML, MATHJS].map((name) =>
    lineOf(standing, name, named(timings, name), differences.get(name), limit),
  );
  return { lines, demands: demandsOf(standing, timings, limit) };
}

/** Indices of so many frequencies over the whole range, and the angular frequencies. */
function spaced({ omega }: Task, count: number) {
  const indices = Array.from({ length: count }, (_, k) =>
    Math.round(((k + 0.5) / count) * (omega.length - 1)),
  );
  return { indices, omegas: indices.map((k) => omega[k]!) };
}

/** Factored, solved and read at each of the frequencies. */
function ourContender(standing: Standing, hertz: readonly number[]): Contender {
  return inProcess(OURS, hertz.length, () => {
    sweepOf(standing, hertz, () => {});
  });
}

function ourSolution(standing: Standing, hertz: readonly number[]) {
  const { smallSignal } = standing;
  const { net, size } = smallSignal.network.unknowns;
  return (k: number): Solution => {
    solveAt(standing, hertz[k]!);
    const [re, im] = [new Float64Array(size), new Float64Array(size)];
    net.forEach((unknown, n) => {
      if (n === 0) return;
      const volts = smallSignal.voltage(n);
      re[unknown] = volts.re;
      im[unknown] = volts.im;
    });
    return { re, im };
  };
}

/** ml-matrix knows no complex matrices: twice the size, filled beforehand. */
function mlContender(task: Task): Contender {
  const matrices = spaced(task, FEW).omegas.map((omega) => denseMatrix(task, omega));
  const b = denseRightSide(task);
  return inProcess(ML, FEW, () => {
    for (const matrix of matrices) new LuDecomposition(matrix).solve(b);
  });
}

/** Compares solutions at some of the frequencies with the dense reference; stops the run if they differ. */
function checker(task: Task, unknowns: readonly number[]) {
  const { indices, omegas } = spaced(task, CHECKED);
  const references = omegas.map((omega) => denseSolution(task, omega));
  return (solution: (k: number, omega: number) => Solution): number => {
    const found = indices.map((k, n) => differenceOf(solution(k, omegas[n]!), references[n]!, unknowns));
    return mustAgree("a point of the sweep", Math.max(...found), ALLOWED);
  };
}

function limitOf({ smallSignal }: Standing, multiplyAdd: MultiplyAdd): number {
  const { factor } = costOf(smallSignal.elimination!);
  return (factor + smallSignal.solveCost) * multiplyAdd.complex;
}

function lineOf(
  { mode, smallSignal }: Standing,
  name: string,
  timing: Timing | undefined,
  difference: number | undefined,
  limit: number,
): Line {
  const ours = name === OURS;
  const { factor, solve } = costOf(smallSignal.elimination!);
  const solving = `${smallSignal.solveCost} of ${solve}`;
  const counts = `${smallSignal.pattern.size} unknowns, ${factor} + ${solving} multiply-adds`;
  const note = timing === undefined ? "not measured here" : name === ML ? "the reference" : undefined;
  return {
    item: "sweep",
    what: `${mode}: ${name}`,
    per: "point",
    ...(timing && { min: timing.min, median: timing.median }),
    ...(ours && { limit, note: `${counts}${smallSignal.compiled ? "" : "; no machine code here"}` }),
    ...(difference !== undefined && { difference }),
    ...(note !== undefined && { note }),
  };
}

function demandsOf({ mode }: Standing, timings: readonly Timing[], limit: number): Demand[] {
  const ours = named(timings, OURS)!.min;
  const faster = (name: string, wanted: number): Demand => {
    const other = named(timings, name);
    return {
      item: "sweep",
      what: `${mode}: faster than ${name}`,
      ...(other && { found: other.min / ours }),
      wanted,
      sense: "at least",
      unit: "times",
    };
  };
  return [
    faster(NUMPY, 50),
    faster(SPLU, 50),
    faster(ML, 500),
    {
      item: "sweep",
      what: `${mode}: share of the limit`,
      found: limit / ours,
      wanted: 0.5,
      sense: "at least",
      unit: "",
    },
  ];
}
