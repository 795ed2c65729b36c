/** The library's question after probing. */
import type { Conditions } from "./bench/conditions.ts";
import type { Failure } from "./bench/results.ts";
import { type Answer, inEachMode } from "./bench/run.ts";
import { impossibleReadings } from "./bench/suspects/impossible.ts";
import type { SuspectsResult } from "./bench/suspects/results.ts";
import { NoHealthyPoint } from "./bench/suspects/stand.ts";
import { suspects as explained, type SuspectsConditions } from "./bench/suspects.ts";
import type { Circuit } from "./circuit/circuit.ts";
import { modesOf } from "./circuit/conditions.ts";
import { statedReadings, type TakenReading } from "./circuit/look.ts";
import { checkNames } from "./library-names.ts";

/** Error of an ordinary moving-coil meter, as a share of the reading, where nothing better is known. */
export const ACCURACY = 0.03;
const WORST_ACCURACY = 0.3;

/**
 * Which single fault explains readings best, and where to measure next: one result, all modes judged together.
 * Readings come from `readReading`; without any, those that the netlist states. `accuracy` is the meter's error as a
 * share of the reading, 0.03 if not given. A failure where the circuit has no operating point even without a fault.
 * Throws a RangeError on a mode the circuit has not, on no readings, and on readings that no circuit of these
 * supplies can show, all of them named.
 */
export function suspects(
  circuit: Circuit,
  readings: readonly TakenReading[] = statedReadings(circuit),
  conditions: Partial<SuspectsConditions> = {},
): Answer<SuspectsResult> {
  const { accuracy = ACCURACY, modes } = conditions;
  checkNames("mode", modes, modesOf(circuit));
  checkNames("mode", readings.map(modeOf), modesOf(circuit));
  if (!(accuracy > 0 && accuracy <= WORST_ACCURACY))
    throw new RangeError(`an accuracy is above 0 and at most ${WORST_ACCURACY}, not ${accuracy}`);
  const looked = readings.filter((reading) => modes?.includes(modeOf(reading)) ?? true);
  if (looked.length === 0) throw new RangeError("there is no reading to explain");
  const wrong = impossibleReadings(circuit, looked, accuracy, conditions);
  if (wrong.length > 0) throw new RangeError(wrong.map(({ message }) => message).join("; "));
  const asked = { ...conditions, accuracy };
  return explainedOr(() => explained(circuit, looked, asked), unsound(circuit, looked, asked));
}

const OFF = " off";

/** Without what says that the batteries are out. */
const modeOf = ({ mode }: TakenReading): string => (mode.endsWith(OFF) ? mode.slice(0, -OFF.length) : mode);

/**
 * Modes read whose junctions run away even without a fault. What healthy specimens show there is a heat balance that
 * the warming circuit never reaches, so it has to be said beside the answer.
 */
export function unsound(
  circuit: Circuit,
  readings: readonly TakenReading[],
  conditions: Conditions,
): readonly Failure[] {
  const modes = readings.filter(({ mode }) => !mode.endsWith(OFF)).map(modeOf);
  const solved = inEachMode(circuit, { ...conditions, modes }, () => ({ results: [], failures: [] }));
  return solved.failures
    .filter(({ kind }) => kind === "thermal runaway")
    .map((failure) => ({ ...failure, message: `${failure.message}; that is without any fault` }));
}

/** The answer with what is to be said beside it, or the failure of a circuit that does not work even without a fault. */
export function explainedOr(
  answer: () => SuspectsResult,
  beside: readonly Failure[],
): Answer<SuspectsResult> {
  try {
    return { results: [answer()], failures: beside };
  } catch (error) {
    if (!(error instanceof NoHealthyPoint)) throw error;
    const hint = "the voltage chart says why; every fault is a change of a circuit that works";
    return {
      results: [],
      failures: [{ kind: "no solution", mode: error.mode, message: error.message, hint }],
    };
  }
}
