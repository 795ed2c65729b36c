import type { Circuit } from "../circuit/circuit.ts";
import { cautionsOf, checkOf } from "./suspects/advice.ts";
import { Inquiry, type SuspectsConditions } from "./suspects/inquiry.ts";
import type { Reading } from "./suspects/looks.ts";
import { nextProbes, type Probe, partingProbe } from "./suspects/next-probe.ts";
import { noiseOf } from "./suspects/noise.ts";
import { bestPairs } from "./suspects/pairs.ts";
import { fitted, groupsOf, posterior, type Weighed } from "./suspects/posterior.ts";
import type {
  JudgedReading,
  NamedFault,
  ProposedProbe,
  ReadingUnit,
  Suspect,
  SuspectPair,
  SuspectsResult,
} from "./suspects/results.ts";

export type { SuspectsConditions } from "./suspects/inquiry.ts";
export type { Reading } from "./suspects/looks.ts";

const MOST_SUSPECTS = 8;
const MOST_PROBES = 6;
const MOST_PAIRS = 5;
/** What is less likely is not worth a line. */
const WORTH_NAMING = 2e-3;
/** Groups for which a parting probe is looked for. */
const PARTED = 3;
const MEMBERS_LOOKED_AT = 60;
/** 97.5 % point of the normal distribution. */
const BAND = 1.96;

/**
 * From readings: which single fault explains them best, and where to measure next. Throws a NoHealthyPoint if the
 * circuit has no operating point without a fault. Readings are taken as possible (`impossibleReadings`).
 */
export function suspects(
  circuit: Circuit,
  readings: readonly Reading[],
  conditions: SuspectsConditions,
): SuspectsResult {
  const inquiry = new Inquiry(circuit, readings, conditions);
  const weighed = inquiry.weigh();
  const faults = posterior(weighed);
  const none = faults.find(({ fault }) => fault === undefined)!;
  const isUnseen = ({ fault, best }: Weighed) => fault !== undefined && best.fit === none.best.fit;
  const visible = faults.filter((each) => each.fault !== undefined && !isUnseen(each));
  const groups = groupsOf(inquiry, visible.slice(0, MEMBERS_LOOKED_AT), MOST_SUSPECTS);
  return {
    readings: judged(inquiry),
    suspects: groups
      .filter((members) => sum(members) >= WORTH_NAMING)
      .map((members, k) => suspectOf(inquiry, members, !conditions.ranking && k < PARTED)),
    no_fault_probability: none.probability,
    unseen_probability: sum(faults.filter(isUnseen)),
    explained: isExplained(nearestOf(weighed), readings.length),
    next: conditions.ranking ? [] : nextProbes(inquiry, faults, MOST_PROBES).map(proposed),
    ...(conditions.pairs && { pairs: pairsOf(inquiry, weighed) }),
  };
}

const sum = (members: readonly Weighed[]) =>
  members.reduce((total, { probability }) => total + probability, 0);

/** A hypothesis this much less likely than the best (in logarithms) explains nothing. */
const IN_THE_RUNNING = 6;

function nearestOf(weighed: Inquiry["hypotheses"]): number {
  const least = (weighed[0]?.logWeight ?? 0) - IN_THE_RUNNING;
  const running = weighed.filter(({ logWeight }) => logWeight > least);
  return Math.min(...running.map(({ fit }) => fit?.distance ?? Number.POSITIVE_INFINITY));
}

/** Squared distances of right explanations have about this mean and spread (χ² of n readings), with room for tails. */
const isExplained = (distance: number, n: number): boolean => distance <= n + 4 + 3.5 * Math.sqrt(2 * n);

const proposed = ({ mode, point, bits }: Probe): ProposedProbe => ({ mode, point, bits });

const UNITS = { voltage: "V", current: "A", resistance: "Ω", gain: "dB" } as const satisfies Record<
  Reading["look"]["kind"],
  ReadingUnit
>;

/** Resistances are compared by their logarithms. */
const shown = ({ look }: Reading, value: number): number =>
  look.kind === "resistance" ? Math.exp(value) : value;

function judged(inquiry: Inquiry): readonly JudgedReading[] {
  const { readings, healthy, values, conditions } = inquiry;
  const seen = inquiry.see(undefined, readings, "spread")!;
  return readings.map((reading, k) => {
    const { own, common } = noiseOf(reading.look, healthy[k]!, healthy[k]!, healthy[k]!, conditions.accuracy);
    let variance = own ** 2 + common ** 2;
    for (const effect of seen.effects![k]!) variance += effect ** 2;
    const half = BAND * Math.sqrt(variance);
    const [low, high] = [healthy[k]! - half, healthy[k]! + half];
    return {
      mode: reading.mode,
      point: reading.point,
      unit: UNITS[reading.look.kind],
      taken: reading.value,
      expected: shown(reading, healthy[k]!),
      least: shown(reading, low),
      greatest: shown(reading, high),
      outside: values[k]! < low || values[k]! > high,
    };
  });
}

function named({ fault, probability, amount }: Weighed): NamedFault {
  const { part, fault: words, unit } = fault!;
  return {
    part,
    fault: words,
    probability,
    ...(amount !== undefined && unit !== undefined && { amount: { value: amount, unit } }),
  };
}

function suspectOf(inquiry: Inquiry, members: readonly Weighed[], parts: boolean): Suspect {
  const first = members[0]!;
  const parting = parts ? partingProbe(inquiry, members) : undefined;
  const { slip } = first.best.fit ?? {};
  return {
    ...named(first),
    probability: sum(members),
    alike: members.filter(({ probability }, k) => k === 0 || probability >= WORTH_NAMING / 10).map(named),
    ...(parting !== undefined && { parted_by: proposed(parting) }),
    predicted: Array.from(fitted(first), (value, k) => shown(inquiry.readings[k]!, value)),
    ...(slip !== undefined && { slip }),
    check: checkOf(first.fault!),
    cautions: cautionsOf(first.fault!),
  };
}

function pairsOf(inquiry: Inquiry, weighed: Inquiry["hypotheses"]): readonly SuspectPair[] {
  const pairs = bestPairs(inquiry, weighed, MOST_PAIRS);
  const most = Math.max(
    ...weighed.map(({ logWeight }) => logWeight),
    ...pairs.map(({ logWeight }) => logWeight),
  );
  const share = (logWeight: number) => Math.exp(logWeight - most);
  const whole = [...weighed, ...pairs].reduce((total, { logWeight }) => total + share(logWeight), 0);
  return pairs.map(({ first, second, mean, logWeight }) => {
    const probability = share(logWeight) / whole;
    const one = ({ fault, way }: typeof first): NamedFault => ({
      part: fault!.part,
      fault: fault!.fault,
      probability,
      ...(way!.amount !== undefined &&
        fault!.unit !== undefined && { amount: { value: way!.amount, unit: fault!.unit } }),
    });
    return {
      faults: [one(first), one(second)],
      probability,
      predicted: Array.from(mean, (value, k) => shown(inquiry.readings[k]!, value)),
    };
  });
}
