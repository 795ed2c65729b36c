import type { PowerCurve } from "./bench/power/results.ts";
import { power as levels, type PowerConditions } from "./bench/power.ts";
import type { RegulationCurve } from "./bench/regulation/results.ts";
import { type RegulationConditions, regulation as turned } from "./bench/regulation.ts";
import type { Answer } from "./bench/run.ts";
import type { Circuit } from "./circuit/circuit.ts";
import { modesOf } from "./circuit/conditions.ts";
import { checkNames, checkPositive } from "./library-names.ts";

const POINTS = 7;
const HERTZ = 1000;

/** Runs a generator to its end. */
function ended<Result>(steps: Generator<unknown, Result, boolean | undefined>): Result {
  for (;;) {
    const next = steps.next();
    if (next.done === true) return next.value;
  }
}

/**
 * Speed of a governed motor against the voltage of a battery (V) and against load (N·m), in every mode that leaves
 * the governor to its motor: 7 values of each unless `points` says otherwise. Throws a RangeError on a mode or
 * battery the circuit has not.
 */
export function regulation(
  circuit: Circuit,
  { points = POINTS, batteries = {}, ...conditions }: Partial<RegulationConditions> = {},
): Answer<RegulationCurve> {
  checkNames("mode", conditions.modes, modesOf(circuit));
  checkNames(
    "battery",
    Object.keys(batteries),
    circuit.parts.filter(({ kind }) => kind === "battery"),
  );
  if (!(Number.isInteger(points) && points >= 2)) throw new RangeError(`two points or more, not ${points}`);
  return ended(turned(circuit, { ...conditions, points, batteries }));
}

/**
 * Gain, distortion and output power of every path against the level of a sine of `hertz` (1 kHz if not given), with
 * the onset of clipping: at `levels` (EMF, V rms, rising), or up to where it clips; a curve for each of `variants`.
 * Throws a RangeError on a mode or path the circuit has not, and on levels or a frequency not above 0.
 */
export function power(
  circuit: Circuit,
  { hertz = HERTZ, variants = [], ...conditions }: Partial<PowerConditions> = {},
): Answer<PowerCurve> {
  checkNames("mode", conditions.modes, modesOf(circuit));
  checkNames("path", conditions.paths, circuit.paths);
  checkPositive("a frequency", [hertz]);
  checkPositive("an EMF", conditions.levels ?? []);
  return ended(levels(circuit, { ...conditions, hertz, variants }));
}
