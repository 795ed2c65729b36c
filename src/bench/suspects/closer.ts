import type { Variable } from "../spread/variables.ts";
import type { Way } from "./draft.ts";
import type { Hypothesis, Inquiry, Specimen } from "./inquiry.ts";
import { type Fit, fitOf } from "./likelihood.ts";
import { noiseOf } from "./noise.ts";
import type { Seen } from "./stand.ts";

/** Ways that are brought closer: the nearest, then the likeliest, at least and at most so many. */
const FIRST = 14;
const LEAST = 10;
const MOST = 45;
/** How far behind the best (in logarithms) one may be to be worth it. */
const WORTH = 6;
/** Times the specimen that explains the readings best is looked for anew. */
const ROUNDS = 5;
/** A specimen that moves by less, in standard deviations, has been found. */
const FOUND = 0.25;
/** Nor is it worth going on for a gain in squared deviations below this. */
const HARDLY = 0.15;
/** A step this short is taken whole or not at all. */
const SHORT = 0.7;

/**
 * What a fault makes of a specimen is far from linear where junctions saturate or close: for the ways in the
 * running the specimen that explains the readings best is looked for, and the spread linearised about that
 * (iterated Gauss-Newton; Laplace's approximation of the likelihood there). First some that come nearest to the
 * readings whatever the spread makes of it, then always the likeliest. `hypotheses`: nearest first.
 */
export function bringCloser(inquiry: Inquiry, hypotheses: readonly Hypothesis[]): void {
  const left = new Set(hypotheses.filter(({ fit }) => fit !== undefined));
  let best = Number.NEGATIVE_INFINITY;
  const bring = (hypothesis: Hypothesis) => {
    left.delete(hypothesis);
    closer(inquiry, hypothesis);
    best = Math.max(best, hypothesis.logWeight);
  };
  for (const hypothesis of hypotheses.slice(0, FIRST)) if (left.has(hypothesis)) bring(hypothesis);
  for (let count = 0; count < MOST && left.size > 0; count++) {
    const next = [...left].reduce((a, b) => (b.logWeight > a.logWeight ? b : a));
    if (count >= LEAST && next.logWeight < best - WORTH) return;
    bring(next);
  }
}

/** A specimen with what it shows. */
interface Tried {
  readonly specimen: Specimen;
  readonly seen: Seen;
  /** Squared distance from the readings and from the middle, in standard deviations. */
  readonly cost: number;
  readonly fit: Fit;
}

function closer(inquiry: Inquiry, hypothesis: Hypothesis): void {
  let at = triedMiddle(inquiry, hypothesis);
  for (let round = 0; at !== undefined && round < ROUNDS; round++) {
    const from = at.specimen.shifts;
    const step = explaining(at.seen, at.fit, from.length).map((goal, v) => goal - from[v]!);
    const next = improved(inquiry, hypothesis, at, step);
    if (next === undefined) break;
    const gain = at.cost - next.cost;
    at = next;
    if (Math.hypot(...step) < FOUND || gain < HARDLY) break;
  }
  if (at === undefined) return;
  hypothesis.fit = at.fit;
  hypothesis.specimen = at.specimen;
  hypothesis.logWeight = hypothesis.logPrior + at.fit.logLikelihood;
  if (at.specimen.amount !== undefined) hypothesis.shift = at.specimen.shifts.at(-1)! * hypothesis.within!;
}

/** The whole step, or a part of it, whichever is the first to be better; nothing if none is. */
function improved(
  inquiry: Inquiry,
  hypothesis: Hypothesis,
  from: Tried,
  step: Float64Array,
): Tried | undefined {
  const shares = Math.hypot(...step) < SHORT ? [1] : [1, 0.3];
  for (const share of shares) {
    const shifts = from.specimen.shifts.map((each, v) => each + share * step[v]!);
    const found = tried(inquiry, hypothesis, { ...from.specimen, shifts });
    if (found !== undefined && found.cost < from.cost) return found;
  }
  return undefined;
}

/** The shifts that explain the readings best by the effects at a specimen. */
export const explaining = (seen: Seen, fit: Fit, size: number): Float64Array => {
  const shifts = new Float64Array(size);
  fit.weighted.forEach((weight, k) => {
    const own = seen.effects![k]!;
    for (let v = 0; v < size; v++) shifts[v]! += weight * own[v]!;
  });
  return shifts;
};

/** Readings less what a specimen shows, its own shifts taken out: what is left to explain about the middle. */
export const leftOver = (values: Float64Array, { mean, effects }: Seen, shifts: Float64Array): Float64Array =>
  values.map((value, k) => {
    let sum = value - mean[k]!;
    for (let v = 0; v < shifts.length; v++) sum += effects![k]![v]! * shifts[v]!;
    return sum;
  });

function tried(inquiry: Inquiry, { way }: Hypothesis, specimen: Specimen): Tried | undefined {
  const seen = inquiry.seeSpecimen(way, specimen, inquiry.readings);
  return seen && judged(inquiry, specimen, seen);
}

/** The middle has been looked at before; what the amount does is taken from its neighbours on the grid. */
function triedMiddle(inquiry: Inquiry, hypothesis: Hypothesis): Tried | undefined {
  const seen = inquiry.see(hypothesis.way, inquiry.readings, "spread");
  if (seen?.effects === undefined) return undefined;
  const specimen = middleOf(inquiry, hypothesis);
  if (specimen.amount === undefined) return judged(inquiry, specimen, seen);
  const { slope, within } = hypothesis;
  const effects = seen.effects.map((own, k) => {
    const all = new Float64Array(own.length + 1);
    all.set(own);
    all[own.length] = slope![k]! * within!;
    return all;
  });
  return judged(inquiry, specimen, { mean: seen.mean, effects });
}

function judged(inquiry: Inquiry, specimen: Specimen, seen: Seen): Tried | undefined {
  const { readings, values, healthy } = inquiry;
  const covariance = inquiry.covariance(readings, seen, values, healthy);
  const fit = fitOf(leftOver(values, seen, specimen.shifts), covariance, inquiry.ranges());
  return fit && { specimen, seen, fit, cost: costOf(inquiry, specimen, seen, fit) };
}

function costOf(inquiry: Inquiry, { shifts }: Specimen, { mean }: Seen, { slip }: Fit): number {
  const { readings, values, healthy, conditions } = inquiry;
  let cost = shifts.reduce((sum, each) => sum + each * each, 0);
  readings.forEach(({ look }, k) => {
    if (k === slip) return;
    const { own, common } = noiseOf(look, values[k]!, mean[k]!, healthy[k]!, conditions.accuracy);
    cost += (values[k]! - mean[k]!) ** 2 / (own ** 2 + common ** 2);
  });
  return cost;
}

/** The specimen with everything in the middle. */
export function middleOf({ workshop }: Inquiry, { way, within }: Hypothesis): Specimen {
  const amount =
    way?.amount === undefined || within === undefined
      ? undefined
      : amountVariable(way, within, (part) => workshop.indexOf(part));
  const size = workshop.variables.length + (amount === undefined ? 0 : 1);
  return { shifts: new Float64Array(size), ...(amount && { amount }) };
}

/** A fault's amount as one more thing that differs from specimen to specimen. */
function amountVariable(way: Way, within: number, indexOf: (part: string) => number): Variable | undefined {
  const [part, values] =
    Object.entries(way.changes).find(([, own]) => Object.values(own).includes(way.amount!)) ?? [];
  // what the circuit has no place for cannot vary
  if (part === undefined || indexOf(part) < 0) return undefined;
  const keys = Object.keys(values!).filter((key) => values![key] === way.amount);
  // `at` counts in multiples of a tolerance, √3 standard deviations each
  const at = (t: number) => way.amount! * Math.exp(within * Math.sqrt(3) * t);
  return { part, quantity: "amount", index: indexOf(part), values: keys.map((key) => ({ key, at })) };
}
