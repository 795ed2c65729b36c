import type { Circuit } from "../circuit/circuit.ts";
import type { Conditions } from "./conditions.ts";
import type { Failure } from "./results.ts";
import { type Answer, inEachMode, type SolvedMode } from "./run.ts";
import { quiescentCurrents } from "./stages/quiescent.ts";
import { readings } from "./stages/reading.ts";
import type { QuiescentCurrents, StagesResult } from "./stages/results.ts";
import { loopsIn, STAGE_HERTZ, type Survey, surveyOf } from "./stages/survey.ts";

/**
 * What every transistor does in each mode, found from the circuit: configuration, the gain by hand beside
 * the solved one, resistances, feedback loops with their margins, and the quiescent currents of push-pull
 * pairs against temperature and mismatch.
 */
export function stages(circuit: Circuit, conditions: Conditions = {}): Answer<StagesResult> {
  return inEachMode(circuit, conditions, (solved) => stagesIn(solved, conditions));
}

function stagesIn(solved: SolvedMode, conditions: Conditions): Answer<StagesResult> {
  const mode = solved.mode.name;
  const survey = surveyOf(solved);
  if (survey === undefined) return { results: [], failures: [undetermined(mode)] };
  const loops = loopsIn(survey);
  survey.circuit.tune(STAGE_HERTZ);
  const result = {
    mode,
    stages: readings(survey, loops),
    loops,
    push_pull: pairCurrents(survey, conditions),
  };
  return { results: [result], failures: [] };
}

function pairCurrents(
  { solved, circuit, pairs }: Survey,
  conditions: Conditions,
): readonly QuiescentCurrents[] {
  const standing = {
    circuit: solved.circuit,
    ambientCelsius: conditions.ambientCelsius ?? solved.circuit.ambientCelsius,
    isothermal: conditions.isothermal ?? false,
  };
  const name = (k: number) => circuit.transistors[k]!.name;
  return pairs.map(({ first, second }) => quiescentCurrents(standing, [name(first), name(second)]));
}

const undetermined = (mode: string): Failure => ({
  kind: "no solution",
  mode,
  message: `mode ${mode}: at ${STAGE_HERTZ} Hz nothing determines some voltage`,
  hint: "look for a winding without resistance across a source without resistance",
});
