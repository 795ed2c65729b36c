/** What swings by itself, and where it settles. */
import type { OscillationChart } from "../../bench/oscillation/results.ts";
import { oscillation } from "../../bench/oscillation.ts";
import type { ModeInput, ModeOutput } from "./stages.ts";

export function oscillationJob({ circuit, conditions, mode }: ModeInput): ModeOutput<OscillationChart> {
  const { results, failures } = oscillation(circuit, { ...conditions, modes: [mode] });
  return { ...(results[0] !== undefined && { found: results[0] }), failures };
}
