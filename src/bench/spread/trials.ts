import { isSolved, type OperatingPointSolver, type SolvedPoint } from "../../engine/operating-point.ts";
import { failureOf } from "../failure.ts";
import type { Observer } from "./observer.ts";
import { Random } from "./random.ts";
import type { FailedTrials } from "./results.ts";
import type { Specimens } from "./specimen.ts";
import type { Variable } from "./variables.ts";

export interface Trials {
  /** By observation: its value in every specimen that works. */
  readonly values: readonly Float64Array[];
  readonly failed: readonly FailedTrials[];
}

/** What the trials are made with, and how many. */
export interface Setup {
  readonly solver: OperatingPointSolver;
  readonly specimens: Specimens;
  readonly observer: Observer;
  readonly centre: SolvedPoint;
  readonly variables: readonly Variable[];
  readonly mode: string;
  readonly trials: number;
  readonly seed: number;
  readonly progress?: (done: number) => void;
}

/** So many trials between two words of progress. */
const BETWEEN_WORDS = 100;

/** Solves so many specimens drawn from the seed, and observes each. */
export function runTrials(setup: Setup): Trials {
  const { solver, specimens, observer, variables, trials } = setup;
  const random = Random.seeded(setup.seed);
  const t = new Float64Array(variables.length);
  const seen = new Float64Array(observer.size);
  const values = Array.from(seen, () => new Float64Array(trials));
  const failed = new Map<string, FailedTrials>();
  let sound = 0;
  for (let trial = 0; trial < trials; trial++) {
    if (trial % BETWEEN_WORDS === 0) setup.progress?.(trial);
    for (let k = 0; k < t.length; k++) t[k] = random.even();
    const { circuit, ambientCelsius } = specimens.at(t);
    solver.retune(circuit, ambientCelsius);
    const point = solver.solve(setup.centre.state);
    if (isSolved(point) && observer.observe(point, seen)) {
      for (let m = 0; m < seen.length; m++) values[m]![sound] = seen[m]!;
      sound++;
    } else count(failed, isSolved(point) ? { kind: "no solution" } : failureOf(point, setup.mode));
  }
  setup.progress?.(trials);
  return { values: values.map((each) => each.subarray(0, sound)), failed: [...failed.values()] };
}

function count(failed: Map<string, FailedTrials>, { kind, part }: Omit<FailedTrials, "trials">): void {
  const key = `${kind} ${part ?? ""}`;
  const trials = (failed.get(key)?.trials ?? 0) + 1;
  failed.set(key, { kind, ...(part !== undefined && { part }), trials });
}
