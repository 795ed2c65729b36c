/** What every transistor does. */
import type { Conditions } from "../../bench/conditions.ts";
import type { Failure } from "../../bench/results.ts";
import type { StagesResult } from "../../bench/stages/results.ts";
import { stages } from "../../bench/stages.ts";
import type { Circuit } from "../../circuit/circuit.ts";

export interface ModeInput {
  readonly circuit: Circuit;
  readonly conditions: Conditions;
  readonly mode: string;
}

/** What was found in a mode, or why nothing was. */
export interface ModeOutput<Result> {
  readonly found?: Result;
  readonly failures: readonly Failure[];
}

export function stagesJob({ circuit, conditions, mode }: ModeInput): ModeOutput<StagesResult> {
  const { results, failures } = stages(circuit, { ...conditions, modes: [mode] });
  return { ...(results[0] !== undefined && { found: results[0] }), failures };
}
