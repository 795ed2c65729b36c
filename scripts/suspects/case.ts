/** One simulated case of a trial of `suspects`: a fault, or a healthy specimen. */
import type { Random } from "../../src/bench/spread/random.ts";
import type { Reading } from "../../src/bench/suspects/looks.ts";
import type { SuspectsResult } from "../../src/bench/suspects/results.ts";
import { suspects } from "../../src/bench/suspects.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { modesOf } from "../../src/circuit/conditions.ts";
import { anyTrouble, type Draw, errorsOf, measured, misread, scattered, type Trouble } from "./specimen.ts";
import type { Tally } from "./tally.ts";

export const ACCURACY = 0.03;
export const METER = { ohmsPerVolt: 20e3 };
const CONDITIONS = { meter: METER, accuracy: ACCURACY };

/** A fault and the readings it gives, of which one at least is out of its band because of it. */
export interface Shown {
  readonly trouble: Trouble;
  readonly specimen: Circuit;
  readonly readings: readonly Reading[];
  /** The readings (indices) that the fault takes out of their band. */
  readonly wrong: readonly number[];
  readonly found: SuspectsResult;
  /** Place of the group with the fault among the suspects, from 0; −1 for none. */
  readonly rank: number;
}

const isIt =
  ({ fault }: Trouble) =>
  (named: { part: string; fault: string }) =>
    named.part === fault.part && named.fault === fault.fault;

/** Faults that no reading taken tells apart are one suspect: the fault counts as found with its group. */
export const rankOf = (found: SuspectsResult, trouble: Trouble): number =>
  found.suspects.findIndex(({ alike }) => alike.some(isIt(trouble)));

function ranked(circuit: Circuit, readings: readonly Reading[], tally: Tally): SuspectsResult {
  const before = process.cpuUsage();
  const result = suspects(circuit, readings, { ...CONDITIONS, ranking: true });
  const { user, system } = process.cpuUsage(before);
  tally.milliseconds += (user + system) / 1e3;
  tally.rankings++;
  return result;
}

/** Simulates a fault; nothing if it takes no reading out of its band that would be in it without the fault. */
export function tryFault(circuit: Circuit, random: Random, draw: Draw, tally: Tally): Shown | undefined {
  const modes = modesOf(circuit).map(({ name }) => name);
  const specimen = scattered(circuit, random);
  const trouble = anyTrouble(specimen, random, draw);
  const exact = measured(specimen, trouble, METER, modes);
  const sound = measured(specimen, undefined, METER, modes);
  if (exact === undefined || sound === undefined) return undefined;
  tally.faults++;
  const errors = errorsOf(exact.length, ACCURACY, random);
  const readings = misread(exact, ACCURACY, random, errors);
  const without = misread(sound, ACCURACY, random, errors);
  if (readings.every(({ value }, k) => value === without[k]!.value)) return undefined;
  const found = ranked(circuit, readings, tally);
  const wrong = found.readings.flatMap(({ outside, least, greatest }, k) => {
    const healthy = without[k]!.value;
    return outside && healthy >= least && healthy <= greatest ? [k] : [];
  });
  if (wrong.length === 0) return undefined;
  tally.shown++;
  const rank = rankOf(found, trouble);
  if (rank === 0) tally.first++;
  if (rank >= 0 && rank < 3) tally.amongThree++;
  for (const { probability, alike } of found.suspects)
    tally.given.push([probability, alike.some(isIt(trouble))]);
  return { trouble, specimen, readings, wrong, found, rank };
}

/** A healthy specimen. */
export function tryHealthy(circuit: Circuit, random: Random, tally: Tally): SuspectsResult | undefined {
  const modes = modesOf(circuit).map(({ name }) => name);
  const exact = measured(scattered(circuit, random), undefined, METER, modes);
  if (exact === undefined) return undefined;
  const found = ranked(circuit, misread(exact, ACCURACY, random), tally);
  tally.healthy++;
  if (found.no_fault_probability > (found.suspects[0]?.probability ?? 0)) tally.healthyRight++;
  return found;
}

/** The fault leads with this probability, in a group not much larger than all readings together leave it. */
const CERTAIN = 0.6;
const MORE_MEMBERS = 2;
const MOST_READINGS = 30;

/** From one wrong reading: how many more it takes by its own advice, and in random order. */
export function tryProbes(circuit: Circuit, shown: Shown, random: Random, tally: Tally): void {
  const { specimen, trouble, found, readings, wrong } = shown;
  const modes = modesOf(circuit).map(({ name }) => name);
  const everywhere = measured(specimen, trouble, METER, modes, true);
  if (everywhere === undefined || (found.suspects[0]?.probability ?? 0) < CERTAIN) return;
  const known = new Map(readings.map((reading) => [placeOf(reading), reading]));
  const all = misread(everywhere, ACCURACY, random).map((each) => known.get(placeOf(each)) ?? each);
  const start = known.get(placeOf(readings[wrong[Math.floor(((random.even() + 1) / 2) * wrong.length)]!]!))!;
  const members = found.suspects[0]!.alike.length + MORE_MEMBERS;
  const there = (now: SuspectsResult) =>
    rankOf(now, trouble) === 0 &&
    now.suspects[0]!.probability >= CERTAIN &&
    now.suspects[0]!.alike.length <= members;
  const order = new Map(all.map((each) => [each, random.even()]));
  tally.advised.push(takes(circuit, all, start, there, ({ next }, left) => advisedOf(circuit, next, left)));
  tally.random.push(
    takes(circuit, all, start, there, (_, left) =>
      left.reduce((a, b) => (order.get(b)! < order.get(a)! ? b : a)),
    ),
  );
}

const placeOf = ({ mode, look }: Reading) => `${mode} ${JSON.stringify(look)}`;

function takes(
  circuit: Circuit,
  all: readonly Reading[],
  start: Reading,
  there: (found: SuspectsResult) => boolean,
  pick: (found: SuspectsResult, left: readonly Reading[]) => Reading,
): number {
  const taken = [start];
  for (let count = 0; count < MOST_READINGS; count++) {
    const found = suspects(circuit, taken, CONDITIONS);
    const left = all.filter((reading) => !taken.includes(reading));
    if (there(found) || left.length === 0) return count;
    taken.push(pick(found, left));
  }
  return MOST_READINGS;
}

function advisedOf({ nets }: Circuit, next: SuspectsResult["next"], left: readonly Reading[]): Reading {
  for (const { mode, point } of next) {
    const found = left.find(({ look, ...each }) => {
      if (each.mode !== mode || look.kind !== "voltage") return false;
      return nets[look.net]!.name === point || nets[look.net]!.points.includes(point);
    });
    if (found !== undefined) return found;
  }
  return left[0]!;
}
