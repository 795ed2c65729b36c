/** What each part does to each figure of the chart. */
import type { Conditions } from "../../bench/conditions.ts";
import { type Influences, influences } from "../../bench/influences.ts";
import type { Failure } from "../../bench/results.ts";
import type { Circuit } from "../../circuit/circuit.ts";

export interface InfluencesInput {
  readonly circuit: Circuit;
  readonly conditions: Conditions;
  readonly mode: string;
}

export interface InfluencesOutput {
  readonly found?: Influences;
  readonly failures: readonly Failure[];
}

export function influencesJob({ circuit, conditions, mode }: InfluencesInput): InfluencesOutput {
  const { results, failures } = influences(circuit, { ...conditions, modes: [mode] });
  return { ...(results[0] !== undefined && { found: results[0] }), failures };
}
