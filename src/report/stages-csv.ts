import type { StagesResult } from "../bench/stages/results.ts";
import { type Field, lines } from "./csv.ts";

const STAGE_KEYS = [
  "configuration",
  "because",
  "partner",
  "gm_siemens",
  "re_ohms",
  "hand_formula",
  "hand_gain",
  "solved_gain",
  "difference",
  "input_ohms",
  "output_ohms",
  "input_net_ohms",
  "output_net_ohms",
] as const;

/** A row a transistor of each mode: what it does, gains and resistances at 1 kHz, parts of its feedback. */
export function stagesCsv(results: readonly StagesResult[]): string {
  const rows = results.flatMap(({ mode, stages }) =>
    stages.map((stage): Field[] => [
      mode,
      stage.transistor,
      ...STAGE_KEYS.map((key) => stage[key]),
      stage.dc_feedback.join(" "),
      stage.ac_feedback.join(" "),
    ]),
  );
  return lines([["mode", "transistor", ...STAGE_KEYS, "dc_feedback", "ac_feedback"], ...rows]);
}
