import type { SignalPath } from "../../circuit/circuit.ts";
import { thermalVoltage, ZERO_CELSIUS } from "../../devices/constants.ts";
import type { SolvedPoint } from "../../engine/operating-point.ts";
import type { Region } from "../results.ts";
import type { SolvedMode } from "../run.ts";
import { transistorReading } from "../transistor-reading.ts";
import { feedbackLoops, type Unit } from "./feedback.ts";
import { LinearCircuit, type PlacedTransistor } from "./linear-circuit.ts";
import { type Stability, stability } from "./oscillators.ts";
import { type Pair, pushPullPairs } from "./push-pull.ts";
import type { FeedbackLoop } from "./results.ts";
import { type Drive, drives, signalSources } from "./signal.ts";
import { type Service, serviceOf } from "./supply-servants.ts";
import { sweepTransmissions } from "./sweep.ts";
import { type Transmission, transmission } from "./transmission.ts";
import { Wiring } from "./wiring.ts";

/** Gains and resistances are those at 1 kHz. */
export const STAGE_HERTZ = 1000;

/** All that is found of a mode's circuit before any one transistor is looked at. */
export interface Survey {
  readonly solved: SolvedMode;
  readonly circuit: LinearCircuit;
  readonly wiring: Wiring;
  readonly paths: readonly SignalPath[];
  /** What serves the supply, by part. */
  readonly services: ReadonlyMap<number, Service>;
  /** By number of the transistor, as are `pairs` and `stability`. */
  readonly drives: readonly Drive[];
  readonly pairs: readonly Pair[];
  readonly stability: Stability;
  readonly sweep: readonly Transmission[];
}

/** Surveys a mode's circuit; undefined where something is determined by nothing at 1 kHz. */
export function surveyOf(solved: SolvedMode): Survey | undefined {
  const { mode, circuit: plain, point } = solved;
  const wiring = new Wiring(plain);
  const services = new Map<number, Service>();
  const circuit = new LinearCircuit(point, (transistor) => {
    const service = activeIn(solved, transistor) ? serviceOf(wiring, transistor) : undefined;
    if (service !== undefined) services.set(transistor.part, service);
    return service !== undefined;
  });
  const at = transmission(circuit, STAGE_HERTZ);
  if (at === undefined) return undefined;
  const paths = plain.paths.filter((path) => path.mode === undefined || path.mode === mode.name);
  const found = drives(circuit, at, signalSources(plain, paths));
  const sweep = sweepTransmissions(circuit);
  const stable = stability(sweep);
  const able = (k: number) => activeIn(solved, circuit.transistors[k]!) && !stable.oscillators.has(k);
  const pairs = pushPullPairs(wiring, circuit.transistors, found, able);
  return { solved, circuit, wiring, paths, services, drives: found, pairs, stability: stable, sweep };
}

const activeIn = ({ point }: SolvedMode, { part }: PlacedTransistor): boolean =>
  regionOf(point, part) === "active";

/** The region, where a base that is not kT/q forward also counts as cut off: what flows then is leakage. */
export function regionOf(point: SolvedPoint, part: number): Region {
  const { region, vbe_volts, junction_celsius, type } = transistorReading(point, part);
  const sign = point.network.circuit.types[type]?.device === "npn" ? 1 : -1;
  const unbiased = sign * vbe_volts < thermalVoltage(junction_celsius + ZERO_CELSIUS);
  return region === "active" && unbiased ? "cut off" : region;
}

/** The loops of the circuit, the two halves of a push-pull stage taken as one. */
export function loopsIn({
  circuit,
  wiring,
  drives: found,
  pairs,
  stability: stable,
  sweep,
}: Survey): readonly FeedbackLoop[] {
  const second = new Set(pairs.map((pair) => pair.second));
  const units = circuit.transistors.flatMap((_, k): Unit[] => {
    if (second.has(k)) return [];
    const pair = pairs.find(({ first }) => first === k);
    const { rank, source } = found[k]!;
    return [{ members: pair === undefined ? [k] : [k, pair.second], rank, driven: source !== undefined }];
  });
  const oscillations = [...stable.oscillators.values()]
    .map(({ hertz }) => hertz)
    .filter((hertz) => hertz > 0);
  return feedbackLoops({ circuit, wiring, units, sweep, oscillations });
}
