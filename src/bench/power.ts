import type { Circuit, PartState, SignalPath } from "../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import { currentInto } from "../engine/currents.ts";
import { isSolved, OperatingPointSolver } from "../engine/operating-point.ts";
import { DrivenCircuit } from "../engine/steady/driven.ts";
import type { Conditions } from "./conditions.ts";
import { failureOf } from "./failure.ts";
import { levels } from "./power/levels.ts";
import { OutputMeter } from "./power/output.ts";
import type { PowerCurve } from "./power/results.ts";
import { runsIn } from "./response.ts";
import type { Failure } from "./results.ts";
import { type Answer, chosenModes, networkIn, type SolvedMode } from "./run.ts";
import { surveyOf } from "./stages/survey.ts";

/** What one curve has for itself: parts set otherwise, another temperature. */
export interface Variant {
  /** In words, for the curve. */
  readonly name: string;
  readonly set: readonly PartState[];
  readonly ambientCelsius?: number;
}

export interface PowerConditions extends Conditions {
  /** Names of paths; all if not given. */
  readonly paths?: readonly string[];
  /** Frequency of the tone, Hz. */
  readonly hertz: number;
  /** EMFs of the path's source by rising level, V rms; from small to well beyond clipping if not given. */
  readonly levels?: readonly number[];
  /** A curve each; one curve if there are none. */
  readonly variants: readonly Variant[];
}

/** How far the curves have come. */
export interface PowerProgress {
  readonly mode: string;
  readonly path: string;
  readonly variant: string;
  readonly share: number;
}

/** Harmonics balanced: at 1 kHz to the end of hearing. */
const HARMONICS = 15;

/**
 * Gain, distortion and output power against the level of a sine, in the steady state, of every path.
 * Junction temperatures are those without a signal. Yields after each level; whoever answers true ends it
 * with what there is.
 */
export function* power(
  circuit: Circuit,
  conditions: PowerConditions,
): Generator<PowerProgress, Answer<PowerCurve>, boolean | undefined> {
  const results: PowerCurve[] = [];
  const failures: Failure[] = [];
  const variants = conditions.variants.length > 0 ? conditions.variants : [{ name: "", set: [] }];
  for (const mode of chosenModes(circuit, conditions))
    for (const path of circuit.paths.filter((each) => isAsked(each, mode.name, conditions)))
      for (const variant of variants) {
        const solved = solvedFor(circuit, mode, conditions, variant);
        if ("kind" in solved) {
          failures.push(solved);
          continue;
        }
        const curve = yield* curveOf(solved, path, conditions, variant);
        results.push(curve.result);
        if (curve.stopped) return { results, failures };
      }
  return { results, failures };
}

const isAsked = (path: SignalPath, mode: string, { paths }: PowerConditions): boolean =>
  runsIn(path, mode) && (paths?.includes(path.name) ?? true);

function solvedFor(
  circuit: Circuit,
  mode: SolvedMode["mode"],
  conditions: PowerConditions,
  { name, set, ambientCelsius = conditions.ambientCelsius }: Variant,
): SolvedMode | Failure {
  const all = { ...conditions, set: [...(conditions.set ?? []), ...set] };
  const network = networkIn(circuit, mode, {
    ...all,
    ...(ambientCelsius !== undefined && { ambientCelsius }),
  });
  const solver = new OperatingPointSolver(network);
  const point = solver.solve();
  if (isSolved(point)) return { mode, circuit: network.circuit, point, solver };
  const failure = failureOf(point, mode.name);
  return name === "" ? failure : { ...failure, message: `${name}: ${failure.message}` };
}

const COLLECTOR = 2;

/** Collector currents of the push-pull pairs, A. */
function quiescent(solved: SolvedMode): Record<string, number> {
  const survey = surveyOf(solved);
  if (survey === undefined) return {};
  const names = survey.pairs.flatMap(({ first, second }) =>
    [first, second].map((k) => survey.circuit.transistors[k]!.name),
  );
  const { circuit, point } = solved;
  return Object.fromEntries(
    names.map((name) => {
      const part = circuit.parts.findIndex((each) => each.name === name);
      return [name, Math.abs(currentInto(point.currents, part, COLLECTOR))];
    }),
  );
}

function* curveOf(
  solved: SolvedMode,
  path: SignalPath,
  { hertz, levels: given }: PowerConditions,
  variant: Variant,
): Generator<PowerProgress, { readonly result: PowerCurve; readonly stopped: boolean }, boolean | undefined> {
  const { circuit, mode, point } = solved;
  const meter = new OutputMeter(solved, path, hertz);
  const source = circuit.parts.findIndex(({ name }) => name === path.from);
  const driven = new DrivenCircuit(point, source, hertz, HARMONICS);
  const supply = Math.max(
    0,
    ...circuit.parts.map(({ kind, values }) => (kind === "battery" ? (values.emf ?? 0) : 0)),
  );
  const steps = levels(driven, meter, given, supply);
  let stopped = false;
  let next = steps.next();
  while (next.done !== true) {
    stopped = (yield { mode: mode.name, path: path.name, variant: variant.name, share: next.value }) === true;
    next = steps.next(stopped);
  }
  const result: PowerCurve = {
    path: path.name,
    mode: mode.name,
    from: path.from,
    to: path.toText,
    quantity: "net" in path.to ? "voltage" : path.to.quantity,
    hertz,
    harmonics: HARMONICS,
    ...(variant.name !== "" && { variant: variant.name }),
    ambient_celsius: point.network.ambientKelvin - ZERO_CELSIUS,
    quiescent_amps: quiescent(solved),
    gain_db: 20 * Math.log10(Math.max(1e-20, meter.smallSignalGain)),
    ...next.value,
  };
  return { result, stopped };
}
