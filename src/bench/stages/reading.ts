/** What is to be said of each transistor, from the survey of its circuit. */
import { amplifying, type Finding, oscillating, standstill } from "./configuration.ts";
import { gainReading, type Use } from "./hand-gain.ts";
import { COLLECTOR, EMITTER, type LinearCircuit, type PlacedTransistor } from "./linear-circuit.ts";
import { size } from "./phasor.ts";
import type { Pair } from "./push-pull.ts";
import { type PinImpedance, pairImpedance, pinImpedance } from "./resistances.ts";
import type { FeedbackLoop, StageReading } from "./results.ts";
import { pinOf } from "./signal.ts";
import type { Service } from "./supply-servants.ts";
import { regionOf, STAGE_HERTZ, type Survey } from "./survey.ts";

/** Stages in the order of the parts. */
export function readings(survey: Survey, loops: readonly FeedbackLoop[]): StageReading[] {
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
