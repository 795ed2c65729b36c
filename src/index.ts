/**
 * preprobe as a library: from the text of a netlist to operating points and responses. Plain functions
 * on plain data, in SI units; nothing here needs Node.
 *
 *     import { operatingPoint, readNetlist, response } from "preprobe";
 *
 *     const { circuit, diagnostics } = readNetlist(text);
 *     if (circuit === undefined) throw new Error(diagnostics[0]?.message);
 *     operatingPoint(circuit).results[0]?.transistors.T1?.ic_amps;
 *     response(circuit, { hertz: [1000] }).results[0]?.gain[0]?.abs();
 */
import { Complex } from "complex.js";
import type { Condition } from "./bench/adjust/condition.ts";
import { knobOf } from "./bench/adjust/knob.ts";
import { type Adjustment, adjust as turn } from "./bench/adjust.ts";
import type { Conditions, Meter } from "./bench/conditions.ts";
import type { PathHiss } from "./bench/hiss/results.ts";
import { type HissConditions, hiss as noise } from "./bench/hiss.ts";
import type { OscillationChart } from "./bench/oscillation/results.ts";
import { oscillation as leftAlone, type OscillationConditions } from "./bench/oscillation.ts";
import { type FrequencyRange, preferredFrequencies, response as sweep } from "./bench/response.ts";
import type { PathResponse, VoltageChart } from "./bench/results.ts";
import type { Answer } from "./bench/run.ts";
import type { SpreadChart } from "./bench/spread/results.ts";
import { type SpreadConditions, spread as specimens } from "./bench/spread.ts";
import type { StagesResult } from "./bench/stages/results.ts";
import { stages as lookedAt } from "./bench/stages.ts";
import type { Substitution } from "./bench/substitute/results.ts";
import { substitute as fitted, type SubstituteConditions } from "./bench/substitute.ts";
import { voltages } from "./bench/voltages.ts";
import type { Circuit } from "./circuit/circuit.ts";
import { modesOf } from "./circuit/conditions.ts";
import { libraryTypes, readNetlist as read } from "./language/index.ts";
import type { Unusable } from "./language/read.ts";
import { checkNames } from "./library-names.ts";

export type { Condition, Looked } from "./bench/adjust/condition.ts";
export type { Adjustment } from "./bench/adjust.ts";
export { type AlikeType, typesLike } from "./bench/alike.ts";
export type { ComparedPath, Comparison } from "./bench/compare.ts";
export type { Conditions, Meter } from "./bench/conditions.ts";
export { type CurveConditions, type TypeCurves, typeCurves } from "./bench/curves.ts";
export { type Grade, type Grades, grade, type Tested } from "./bench/grade.ts";
export type * from "./bench/hiss/results.ts";
export type { HissConditions } from "./bench/hiss.ts";
export type * from "./bench/oscillation/results.ts";
export { type OscillationConditions, oscillationFrequency } from "./bench/oscillation.ts";
export type { PlaybackOfTape, PlaybackResponse } from "./bench/playback.ts";
export type * from "./bench/power/results.ts";
export type { PowerConditions, Variant } from "./bench/power.ts";
export { nearestPreferred, PREFERRED_SERIES, type Series } from "./bench/preferred-values.ts";
export type * from "./bench/regulation/results.ts";
export type { RegulationConditions } from "./bench/regulation.ts";
export { preferredFrequencies } from "./bench/response.ts";
export type * from "./bench/results.ts";
export type * from "./bench/spread/results.ts";
export type { Range, Ranges } from "./bench/spread/variables.ts";
export type { SpreadConditions } from "./bench/spread.ts";
export type * from "./bench/stages/results.ts";
export type * from "./bench/substitute/results.ts";
export type { SubstituteConditions } from "./bench/substitute.ts";
export type * from "./bench/suspects/results.ts";
export type { FaultKey, Weights } from "./bench/suspects/weights.ts";
export type { SuspectsConditions } from "./bench/suspects.ts";
export type { TestCircuit, TestReadings } from "./bench/transistor-test.ts";
export type { Verdict, Worth } from "./bench/verdict.ts";
export type { PlannedEvent, Shown, Start, Tone, WaveformConditions } from "./bench/waveform/conditions.ts";
export type * from "./bench/waveform/results.ts";
export { waveform, waveforms } from "./bench/waveform.ts";
export type * from "./circuit/circuit.ts";
export { modesOf } from "./circuit/conditions.ts";
export type { Diagnostic } from "./circuit/diagnostic.ts";
export type { Look, TakenReading } from "./circuit/look.ts";
export { formatNetlist, libraryTypes, readQuantity, readReading, readSetting } from "./language/index.ts";
export { writeType } from "./language/write-type.ts";
export { suspects } from "./library-suspects.ts";
export {
  type ComparedOption,
  type ComparisonOptions,
  compare,
  type PlaybackOptions,
  playback,
} from "./library-tape.ts";
export { power, regulation } from "./library-time.ts";
export type { ToleranceField } from "./tape/fields.ts";
export type { LossCurve } from "./tape/loss-curve.ts";
export { type Answer, Complex, type Unusable };

/** What readNetlist found. `circuit` is missing where there are errors. */
export type Reading = ReturnType<typeof read>;

export interface ReadingOptions {
  /** How diagnostics call the file. */
  readonly file?: string;
  /**
   * The text of a file that `use "NAME"` asks for in the file `from`; undefined if there is none, or why what
   * is there cannot be used.
   */
  readonly files?: (name: string, from: string) => string | Unusable | undefined;
}

/**
 * Reads a netlist: the circuit as plain data, and every error and warning with its place. Never throws.
 */
export function readNetlist(text: string, options: ReadingOptions = {}): Reading {
  return read(text, { file: options.file ?? "netlist", files: options.files ?? (() => undefined) });
}

/**
 * The operating point of every mode asked for, electro-thermal unless `isothermal`: volts of the nets,
 * currents in A, dissipation in W, junctions in °C. `failures` says which modes have none, and why.
 * With a meter, also what it would show at each net. Throws a RangeError on a mode the circuit has not.
 */
export function operatingPoint(
  circuit: Circuit,
  conditions: Conditions = {},
  meter?: Meter,
): Answer<VoltageChart> {
  checkNames("mode", conditions.modes, modesOf(circuit));
  return voltages(circuit, conditions, meter);
}

export interface ResponseOptions extends Conditions, Partial<FrequencyRange> {
  /** Frequencies in Hz. Without, a sweep `from` 20 Hz `to` 20 kHz with 6 `pointsPerOctave`. */
  readonly hertz?: readonly number[];
  /** Names of the paths to follow; all if not given. */
  readonly paths?: readonly string[];
}

/** One path in one mode: the complex gain, output over EMF (V/V, or A/V for a current), beside `hertz`. */
export interface Response extends PathResponse {
  readonly gain: readonly Complex[];
}

/**
 * The small-signal response of every path asked for, about the operating point of its mode. Throws a
 * RangeError on a mode or path the circuit has not, and on frequencies that are not above 0 Hz.
 */
export function response(circuit: Circuit, options: ResponseOptions = {}): Answer<Response> {
  checkNames("mode", options.modes, modesOf(circuit));
  checkNames("path", options.paths, circuit.paths);
  const hertz = options.hertz ?? sweepOf(options);
  const bad = hertz.find((f) => !(f > 0 && f < Infinity));
  if (bad !== undefined) throw new RangeError(`a frequency is above 0 Hz, not ${bad}`);
  const { results, failures } = sweep(circuit, options, hertz);
  return { results: results.map(withGain), failures };
}

function sweepOf({
  from = 20,
  to = 20_000,
  pointsPerOctave = 6,
}: Partial<FrequencyRange>): readonly number[] {
  const possible = from > 0 && from <= to && to < Infinity;
  if (!possible) throw new RangeError(`there is no sweep from ${from} Hz to ${to} Hz`);
  if (!(pointsPerOctave >= 1 && pointsPerOctave <= 1000)) {
    throw new RangeError(`1 to 1000 points per octave, not ${pointsPerOctave}`);
  }
  return preferredFrequencies({ from, to, pointsPerOctave });
}

const withGain = (path: PathResponse): Response => ({
  ...path,
  gain: path.real.map((re, i) => new Complex(re, path.imag[i] ?? 0)),
});

/**
 * The noise of every path asked for, at its output and as an EMF of its source: levels over a `band` (20 Hz to
 * 20 kHz if not given), unweighted and weighted, noise figure, and who makes it; densities at `hertz`. Throws a
 * RangeError on a mode or path the circuit has not, and on a band or frequency that cannot be.
 */
export function hiss(circuit: Circuit, conditions: HissConditions = {}): Answer<PathHiss> {
  checkNames("mode", conditions.modes, modesOf(circuit));
  checkNames("path", conditions.paths, circuit.paths);
  const { band, hertz = [] } = conditions;
  const bad = hertz.find((f) => !(f > 0 && f < Infinity));
  if (bad !== undefined) throw new RangeError(`a frequency is above 0 Hz, not ${bad}`);
  if (band !== undefined && !(band.from > 0 && band.from < band.to && band.to < Infinity))
    throw new RangeError(`there is no band from ${band.from} Hz to ${band.to} Hz`);
  return noise(circuit, conditions);
}

/**
 * The natural frequencies of every mode asked for, linearised at its operating point: which grow, by which
 * parts, with what they still start, where they settle. Throws a RangeError on a mode or net the circuit has not.
 */
export function oscillation(
  circuit: Circuit,
  conditions: OscillationConditions = {},
): Answer<OscillationChart> {
  checkNames("mode", conditions.modes, modesOf(circuit));
  checkNames("net", conditions.nets, circuit.nets);
  return leftAlone(circuit, conditions);
}

/**
 * What happens with other types in the socket of a transistor: types of the netlist or of the library, of the
 * polarity of the one fitted. Throws a RangeError on a transistor, type or mode there is not, and on a type of
 * another polarity.
 */
export function substitute(
  circuit: Circuit,
  transistor: string,
  types: readonly string[],
  conditions: SubstituteConditions = {},
): Answer<Substitution> {
  const all = { ...libraryTypes(), ...circuit.types };
  const transistors = circuit.parts.filter(({ kind }) => kind === "transistor");
  checkNames("mode", conditions.modes, modesOf(circuit));
  checkNames("transistor", [transistor], transistors);
  checkNames("type", types, Object.values(all));
  const { device } = all[transistors.find(({ name }) => name === transistor)?.type ?? ""]!;
  const other = types.find((name) => all[name]?.device !== device);
  if (other !== undefined)
    throw new RangeError(`${other} is ${all[other]?.device}, but ${transistor} is ${device}`);
  return fitted({ ...circuit, types: all }, transistor, types, conditions);
}

/**
 * What is to be expected of many specimens of a circuit, drawn from tolerances, transistor samples and the
 * ranges given: 2000 with seed 1 if not said. Throws a RangeError on a mode or battery the circuit has not.
 */
export function spread(circuit: Circuit, conditions: Partial<SpreadConditions> = {}): Answer<SpreadChart> {
  checkNames("mode", conditions.modes, modesOf(circuit));
  const batteries = circuit.parts.filter(({ kind }) => kind === "battery");
  checkNames("battery", Object.keys(conditions.batteries ?? {}), batteries);
  const { trials = 2000, seed = 1 } = conditions;
  if (!(Number.isInteger(trials) && trials > 0))
    throw new RangeError(`a whole number of trials, not ${trials}`);
  return specimens(circuit, { ...conditions, trials, seed });
}

/**
 * What every transistor does, mode by mode: its configuration, the gain by hand beside the solved one,
 * resistances at 1 kHz, feedback loops with their phase margins, and the quiescent currents of push-pull
 * pairs. Throws a RangeError on a mode the circuit has not.
 */
export function stages(circuit: Circuit, conditions: Conditions = {}): Answer<StagesResult> {
  checkNames("mode", conditions.modes, modesOf(circuit));
  return lookedAt(circuit, conditions);
}

/** What is turned, and over which range (SI units, a setting as a share of the turn). */
export interface Turned {
  readonly part: string;
  /** The usual one of the part if not given: its setting, else its value. */
  readonly key?: string;
  readonly from?: number;
  readonly to?: number;
}

/**
 * The setting or value of a part that meets a condition, in every mode asked for. Throws a RangeError on a
 * mode or part the circuit has not, and on what cannot be turned.
 */
export function adjust(
  circuit: Circuit,
  { part: name, key, from, to }: Turned,
  condition: Condition,
  conditions: Conditions = {},
): Answer<Adjustment> {
  checkNames("mode", conditions.modes, modesOf(circuit));
  checkNames("part", [name], circuit.parts);
  const knob = knobOf(circuit.parts.find((part) => part.name === name)!, circuit, key);
  if (knob === undefined) throw new RangeError(`${name} has no ${key ?? "setting"} to turn`);
  const { low, high } = { low: from ?? knob.low, high: to ?? knob.high };
  if (!(low < high)) throw new RangeError(`there is no range from ${low} to ${high}`);
  return turn(circuit, { ...knob, low, high }, condition, conditions);
}
