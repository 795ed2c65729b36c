/** Speed of a governed motor against battery and load. */
import type { Conditions } from "../../bench/conditions.ts";
import type { RegulationCurve } from "../../bench/regulation/results.ts";
import { regulation } from "../../bench/regulation.ts";
import type { Answer } from "../../bench/run.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import type { Steps } from "./jobs.ts";

/** Values of each quantity, as the command `regulation` takes them. */
export const POINTS = 7;
/** Curves of a mode: against the battery and against the load. */
const CURVES = 2;

export interface RegulationInput {
  readonly circuit: Circuit;
  readonly conditions: Conditions;
  readonly mode: string;
}

export function* regulationJob({
  circuit,
  conditions,
  mode,
}: RegulationInput): Steps<Answer<RegulationCurve>> {
  const run = regulation(circuit, { ...conditions, modes: [mode], points: POINTS, batteries: {} });
  let next = run.next();
  let [curve, against] = [0, ""];
  while (next.done !== true) {
    const { done, of } = next.value;
    if (against !== "" && against !== next.value.against) curve++;
    against = next.value.against;
    next = run.next(yield (curve + done / of) / CURVES);
  }
  return next.value;
}
