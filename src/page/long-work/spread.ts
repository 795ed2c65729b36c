/** The bands of the voltage chart: what healthy specimens show. */
import type { Conditions } from "../../bench/conditions.ts";
import type { Failure } from "../../bench/results.ts";
import type { SpreadChart } from "../../bench/spread/results.ts";
import { spread } from "../../bench/spread.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import type { Progress } from "./jobs.ts";

export interface SpreadInput {
  readonly circuit: Circuit;
  readonly conditions: Conditions;
  readonly mode: string;
}

export interface SpreadOutput {
  readonly mode: string;
  readonly chart?: SpreadChart;
  readonly failures: readonly Failure[];
}

/** Enough for the digits of a band; the same specimens each time, so that a band moves only when it is moved. */
const TRIALS = 800;

export function spreadJob({ circuit, conditions, mode }: SpreadInput, progress: Progress): SpreadOutput {
  const { results, failures } = spread(circuit, {
    ...conditions,
    modes: [mode],
    trials: TRIALS,
    seed: 1,
    causes: false,
    progress: (_, done) => progress(done / TRIALS),
  });
  return { mode, ...(results[0] !== undefined && { chart: results[0] }), failures };
}
