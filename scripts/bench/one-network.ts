import type { Circuit } from "../../src/circuit/circuit.ts";
import { WHOLE } from "../../src/engine/dc-system.ts";
import { costOf } from "../../src/engine/kernel/elimination.ts";
import { network } from "../../src/engine/network.ts";
import { OperatingPointSolver } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { circuitOf, type Kind } from "./circuits.ts";
import { solved } from "./demonstrations.ts";
import { type Task, taskOf } from "./task.ts";

/** Seconds that each phase took, for the whole circuit. */
interface Phases {
  /** Network, operating point solver and small-signal network. */
  build: number;
  /** First solution at direct current, ordering included, and one factorisation and solve after it. */
  point: number;
  dc: number;
  /** First frequency, ordering and machine code included, and one factorisation and solve after it. */
  order: number;
  ac: number;
}

/** What one large circuit took; bytes are those that the solvers hold in the end. */
export interface Measured extends Phases {
  readonly nodes: number;
  readonly unknowns: number;
  readonly steps: number;
  readonly bytes: number;
  readonly multiplyAdds: { readonly dc: number; readonly ac: number };
  readonly fill: number;
  /** Largest of any row, relative to the row's largest term. */
  readonly residual: number;
  readonly solution: Solved;
  readonly task?: Task;
}

/** By unknown; NaN (null in JSON) where it is not the voltage of a net. */
interface Solved {
  readonly re: number[];
  readonly im: number[];
}

const HERTZ = 1000;
const REPEATS = 10;
const MOST_SECONDS = 20;

const now = () => Number(process.hrtime.bigint()) * 1e-9;

function seconds<T>(run: () => T): { readonly result: T; readonly took: number } {
  const start = now();
  const result = run();
  return { result, took: now() - start };
}

/** The shortest of some runs, fewer if they are long. */
function shortest(run: (k: number) => void): number {
  let best = Number.POSITIVE_INFINITY;
  const begin = now();
  for (let k = 0; k < REPEATS && (k < 2 || now() - begin < MOST_SECONDS); k++) {
    best = Math.min(best, seconds(() => run(k)).took);
  }
  return best;
}

function heldBytes(): number {
  // what the first leaves behind, such as compiled code, the second takes away
  globalThis.gc?.();
  globalThis.gc?.();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return heapUsed + arrayBuffers;
}

const conditions = { ambientCelsius: 25, isothermal: false };

/** Builds and solves a circuit, and times it. */
function round(circuit: Circuit) {
  const build = seconds(() => new OperatingPointSolver(network(circuit, conditions)));
  const solver = build.result;
  const point = seconds(() => solved(solver));
  const { state, steps } = point.result;
  const dx = new Float64Array(solver.network.unknowns.size);
  solver.system.evaluate(state, WHOLE, false);
  const dc = shortest(() => {
    solver.system.jacobian.touch();
    solver.system.step(dx);
  });
  const small = seconds(() => new SmallSignal(point.result));
  const smallSignal = small.result;
  const tune = (hertz: number) => {
    if (smallSignal.tune(hertz) !== undefined) throw new Error("nothing determines an unknown");
    smallSignal.drive(0);
    smallSignal.voltage(1);
  };
  const order = seconds(() => tune(HERTZ));
  const ac = shortest((k) => tune(HERTZ * (2 + k)));
  tune(HERTZ);
  const phases: Phases = {
    build: build.took + small.took,
    point: point.took,
    dc,
    order: order.took,
    ac,
  };
  return { phases, steps, solver, smallSignal };
}

const WARM_UP_NODES = 1_000;
const WARM_UP_ROUNDS = 20;
/** So many nodes are built and kept in all, of small circuits as many as that makes. */
const NODES_IN_ALL = 100_000;

/**
 * Builds and solves circuits of one size, after others of their kind have warmed the code up: small ones many
 * times, all kept, so that the collector of garbage has the same to do at all sizes. To be run in a process of
 * its own.
 */
export function measure(kind: Kind, nodes: number, withTask: boolean): Measured {
  for (let k = 0; k < WARM_UP_ROUNDS; k++) round(circuitOf(kind, Math.min(nodes, WARM_UP_NODES)));
  const circuit = circuitOf(kind, nodes);
  const copies = Math.max(1, Math.round(NODES_IN_ALL / nodes));
  const before = heldBytes();
  const held = Array.from({ length: copies }, () => round(circuit));
  const bytes = (heldBytes() - before) / copies;
  const { steps, solver, smallSignal } = held[0]!;
  const counts = (cost: ReturnType<typeof costOf>) => cost.fixedFactor + cost.factor + cost.solve;
  const cost = costOf(smallSignal.elimination!);
  const task = taskOf(smallSignal, 0, [HERTZ]);
  const solution = solutionOf(smallSignal);
  return {
    ...together(held.map(({ phases }) => phases)),
    nodes: circuit.nets.length,
    unknowns: solver.network.unknowns.size,
    steps,
    bytes,
    multiplyAdds: { dc: counts(costOf(solver.system.jacobian.elimination!)), ac: counts(cost) },
    fill: cost.fill,
    residual: residualOf(task, solution),
    solution: withTask ? solution : { re: [], im: [] },
    ...(withTask && { task }),
  };
}

/** What is done once takes its mean, collections of garbage included; what is done again and again its least. */
function together(all: readonly Phases[]): Phases {
  const least = (phase: keyof Phases) => Math.min(...all.map((one) => one[phase]));
  const mean = (phase: keyof Phases) => all.reduce((sum, one) => sum + one[phase], 0) / all.length;
  return {
    build: mean("build"),
    point: mean("point"),
    dc: least("dc"),
    order: mean("order"),
    ac: least("ac"),
  };
}

function solutionOf(smallSignal: SmallSignal): Solved {
  const { net } = smallSignal.network.unknowns;
  const re = new Array<number>(smallSignal.pattern.size).fill(Number.NaN);
  const im = re.slice();
  for (let n = 1; n < net.length; n++) {
    const volts = smallSignal.voltage(n);
    re[net[n]!] = volts.re;
    im[net[n]!] = volts.im;
  }
  return { re, im };
}

/** A row whose terms are all smaller than this is not looked at: numbers run out there. */
const LEAST_TERM = 1e-280;

/** Largest residual of the rows whose unknowns are all known, relative to the largest term of the row. */
function residualOf({ size, row, column, g, c, b, omega }: Task, { re, im }: Solved): number {
  const w = omega[0]!;
  const [sumRe, sumIm] = [b.map((value) => -value), new Array<number>(size).fill(0)];
  const largest = b.map(Math.abs);
  row.forEach((i, s) => {
    const j = column[s]!;
    const [tr, ti] = [g[s]! * re[j]! - w * c[s]! * im[j]!, g[s]! * im[j]! + w * c[s]! * re[j]!];
    sumRe[i]! += tr;
    sumIm[i]! += ti;
    largest[i] = Math.max(largest[i]!, Math.hypot(tr, ti));
  });
  let worst = 0;
  for (let i = 0; i < size; i++) {
    const left = Math.hypot(sumRe[i]!, sumIm[i]!);
    if (left > 0 && largest[i]! > LEAST_TERM) worst = Math.max(worst, left / largest[i]!);
  }
  return worst;
}
