import type { Circuit, SignalPath } from "../circuit/circuit.ts";
import { thermalVoltage, ZERO_CELSIUS } from "../devices/constants.ts";
import type { SolvedPoint } from "../engine/operating-point.ts";
import type { Conditions } from "./conditions.ts";
import type { Failure, Region } from "./results.ts";
import { type Answer, inEachMode, type SolvedMode } from "./run.ts";
import { amplifying, type Finding, oscillating, standstill } from "./stages/configuration.ts";
import { feedbackLoops, type Unit } from "./stages/feedback.ts";
import { gainReading, type Use } from "./stages/hand-gain.ts";
import { COLLECTOR, EMITTER, LinearCircuit, type PlacedTransistor } from "./stages/linear-circuit.ts";
import { type Stability, stability } from "./stages/oscillators.ts";
import { size } from "./stages/phasor.ts";
import { type Pair, pushPullPairs } from "./stages/push-pull.ts";
import { quiescentCurrents } from "./stages/quiescent.ts";
import { type PinImpedance, pairImpedance, pinImpedance } from "./stages/resistances.ts";
import type { FeedbackLoop, StageReading, StagesResult } from "./stages/results.ts";
import { type Drive, drives, pinOf, signalSources } from "./stages/signal.ts";
import { type Service, serviceOf } from "./stages/supply-servants.ts";
import { sweepTransmissions } from "./stages/sweep.ts";
import { type Transmission, transmission } from "./stages/transmission.ts";
import { Wiring } from "./stages/wiring.ts";
import { transistorReading } from "./transistor-reading.ts";

/** Gains and resistances are those at 1 kHz. */
export const STAGE_HERTZ = 1000;

/**
 * What every transistor does in each mode, found from the circuit: configuration, the gain by hand beside
 * the solved one, resistances, feedback loops with their margins, and the quiescent currents of push-pull
 * pairs against temperature and mismatch.
 */
export function stages(circuit: Circuit, conditions: Conditions = {}): Answer<StagesResult> {
  return inEachMode(circuit, conditions, (solved) => stagesIn(solved, conditions));
}

/** All that is found before any one transistor is looked at. */
interface Survey {
  readonly solved: SolvedMode;
  readonly circuit: LinearCircuit;
  readonly wiring: Wiring;
  readonly paths: readonly SignalPath[];
  readonly services: ReadonlyMap<number, Service>;
  readonly drives: readonly Drive[];
  readonly pairs: readonly Pair[];
  readonly stability: Stability;
}

function stagesIn(solved: SolvedMode, conditions: Conditions): Answer<StagesResult> {
  const { mode, circuit: plain, point } = solved;
  const wiring = new Wiring(plain);
  const services = new Map<number, Service>();
  const circuit = new LinearCircuit(point, (transistor) => {
    const service = activeIn(solved, transistor) ? serviceOf(wiring, transistor) : undefined;
    if (service !== undefined) services.set(transistor.part, service);
    return service !== undefined;
  });
  const at = transmission(circuit, STAGE_HERTZ);
  if (at === undefined) return { results: [], failures: [undetermined(mode.name)] };
  const paths = plain.paths.filter((path) => path.mode === undefined || path.mode === mode.name);
  const found = drives(circuit, at, signalSources(plain, paths));
  const sweep = sweepTransmissions(circuit);
  const stable = stability(sweep);
  const able = (k: number) => activeIn(solved, circuit.transistors[k]!) && !stable.oscillators.has(k);
  const pairs = pushPullPairs(wiring, circuit.transistors, found, able);
  const survey: Survey = {
    solved,
    circuit,
    wiring,
    paths,
    services,
    drives: found,
    pairs,
    stability: stable,
  };
  const loops = loopsIn(survey, sweep);
  circuit.tune(STAGE_HERTZ);
  const standing = {
    circuit: plain,
    ambientCelsius: conditions.ambientCelsius ?? plain.ambientCelsius,
    isothermal: conditions.isothermal ?? false,
  };
  const name = (k: number) => circuit.transistors[k]!.name;
  return {
    results: [
      {
        mode: mode.name,
        stages: readings(survey, loops),
        loops,
        push_pull: pairs.map(({ first, second }) => quiescentCurrents(standing, [name(first), name(second)])),
      },
    ],
    failures: [],
  };
}

const undetermined = (mode: string): Failure => ({
  kind: "no solution",
  mode,
  message: `mode ${mode}: at ${STAGE_HERTZ} Hz nothing determines some voltage`,
  hint: "look for a winding without resistance across a source without resistance",
});

const activeIn = ({ point }: SolvedMode, { part }: PlacedTransistor): boolean =>
  regionOf(point, part) === "active";

/** The region, where a base that is not kT/q forward also counts as cut off: what flows then is leakage. */
function regionOf(point: SolvedPoint, part: number): Region {
  const { region, vbe_volts, junction_celsius, type } = transistorReading(point, part);
  const sign = point.network.circuit.types[type]?.device === "npn" ? 1 : -1;
  const unbiased = sign * vbe_volts < thermalVoltage(junction_celsius + ZERO_CELSIUS);
  return region === "active" && unbiased ? "cut off" : region;
}

function loopsIn(
  { circuit, wiring, drives: found, pairs, stability: stable }: Survey,
  sweep: readonly Transmission[],
) {
  const second = new Set(pairs.map((pair) => pair.second));
  const units = circuit.transistors.flatMap((_, k): Unit[] => {
    if (second.has(k)) return [];
    const pair = pairs.find(({ first }) => first === k);
    const { rank, source } = found[k]!;
    return [{ members: pair === undefined ? [k] : [k, pair.second], rank, driven: source !== undefined }];
  });
  const oscillations = [...stable.oscillators.values()].map(({ hertz }) => hertz);
  return feedbackLoops({ circuit, wiring, units, sweep, oscillations });
}

/** Stages in the order of the parts. */
function readings(survey: Survey, loops: readonly FeedbackLoop[]): StageReading[] {
  const { circuit } = survey;
  const all = [...circuit.transistors, ...circuit.serving].toSorted((a, b) => a.part - b.part);
  return all.map((transistor) => {
    const k = circuit.transistors.indexOf(transistor);
    return readingOf(survey, transistor, k, loops);
  });
}

const PHRASES: Readonly<Record<Service, string>> = {
  "supply filter": "collector on the supply, base held by a capacitor, other stages fed from its emitter",
  "series regulator": "collector on the supply, base held by a transistor that watches its emitter",
};

function findingOf(survey: Survey, transistor: PlacedTransistor, k: number): Finding {
  const { solved, wiring, services, pairs, circuit, drives: found } = survey;
  const oscillation = survey.stability.oscillators.get(k);
  if (oscillation !== undefined) return oscillating(oscillation, hertzText);
  const service = services.get(transistor.part);
  if (service !== undefined) return { configuration: service, because: PHRASES[service] };
  const idle = standstill(wiring, transistor, regionOf(solved.point, transistor.part));
  if (idle !== undefined) return idle;
  const observation = { circuit, wiring, plain: solved.circuit, paths: survey.paths, hertz: STAGE_HERTZ };
  const amplifier = amplifying(observation, transistor, found[k]!);
  const pair = pairs.find(({ first, second }) => first === k || second === k);
  return pair === undefined ? amplifier : half(circuit, pair, k);
}

function half(circuit: LinearCircuit, { first, second, sense }: Pair, k: number): Finding {
  const other = circuit.transistors[k === first ? second : first]!.name;
  return {
    configuration: "push-pull half",
    because:
      sense === 1
        ? `works into the same load as ${other}, of the other polarity, from the same drive`
        : `works into the same transformer as ${other}, driven in opposite phase`,
    entry: "base",
    exit: sense === 1 ? "emitter" : "collector",
  };
}

function hertzText(hertz: number): string {
  const [scale, unit] = hertz >= 1e6 ? [1e6, "MHz"] : hertz >= 1e3 ? [1e3, "kHz"] : [1, "Hz"];
  return `${Number((hertz / scale).toPrecision(3))} ${unit}`;
}

function readingOf(
  survey: Survey,
  transistor: PlacedTransistor,
  k: number,
  loops: readonly FeedbackLoop[],
): StageReading {
  const finding = findingOf(survey, transistor, k);
  const { gm, re, name } = transistor;
  const partner = partnerOf(survey, k);
  const oscillation = survey.stability.oscillators.get(k);
  const involved = loops.filter(({ through }) => through.includes(name));
  const parts = (key: "dc_parts" | "ac_parts") => [...new Set(involved.flatMap((loop) => loop[key]))];
  return {
    transistor: name,
    configuration: finding.configuration,
    because: finding.because,
    ...(partner !== undefined && { partner: partner.transistor.name }),
    gm_siemens: gm,
    ...(conducts(re) && { re_ohms: re }),
    ...measured(survey, transistor, finding, partner),
    ...(oscillation !== undefined && { oscillation }),
    dc_feedback: parts("dc_parts"),
    ac_feedback: parts("ac_parts"),
  };
}

/** Beyond this an emitter conducts nothing that anyone would measure, Ω. */
const conducts = (re: number): boolean => re > 0 && re < 1e7;

function partnerOf({ circuit, pairs }: Survey, k: number): Use["partner"] {
  const pair = pairs.find(({ first, second }) => first === k || second === k);
  if (pair === undefined || k < 0) return undefined;
  const transistor = circuit.transistors[pair.first === k ? pair.second : pair.first]!;
  return { transistor, sense: pair.sense };
}

type Measured = Pick<
  StageReading,
  | "resistances"
  | "hand_formula"
  | "hand_gain"
  | "solved_gain"
  | "difference"
  | "input_ohms"
  | "output_ohms"
  | "input_net_ohms"
  | "output_net_ohms"
>;

/** Gains and resistances of a stage that signals pass; of a supply filter, what its load sees. */
function measured(
  { circuit, wiring }: Survey,
  transistor: PlacedTransistor,
  { entry, exit, configuration }: Finding,
  partner: Use["partner"],
): Measured {
  const at = (pin: number): PinImpedance =>
    partner === undefined
      ? pinImpedance(circuit, transistor, pin)
      : pairImpedance(circuit, [transistor, partner.transistor], pin, partner.sense);
  if (configuration === "supply filter" || configuration === "series regulator") {
    const output = at(EMITTER);
    return { resistances: [], output_ohms: size(output.transistor), output_net_ohms: size(output.whole) };
  }
  if (entry === undefined || exit === undefined) return { resistances: [] };
  const use: Use = { transistor, entry, exit, ...(partner !== undefined && { partner }) };
  const { hand, solved, difference } = gainReading({ wiring, circuit }, use, STAGE_HERTZ);
  const input = at(pinOf(entry));
  const output = at(exit === "collector" ? COLLECTOR : EMITTER);
  return {
    resistances: hand.resistances,
    hand_formula: hand.formula,
    hand_gain: hand.gain,
    solved_gain: solved,
    ...(difference !== undefined && { difference }),
    input_ohms: size(input.transistor),
    output_ohms: size(output.transistor),
    input_net_ohms: size(input.whole),
    output_net_ohms: size(output.whole),
  };
}
