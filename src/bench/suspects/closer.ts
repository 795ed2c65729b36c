import type { Variable } from "../spread/variables.ts";
import type { Way } from "./draft.ts";
import type { Hypothesis, Inquiry } from "./inquiry.ts";
import { type Fit, fitOf } from "./likelihood.ts";
import { noiseOf } from "./noise.ts";
import type { Seen } from "./stand.ts";

/** Ways that are brought closer, and how far behind the best (in logarithms) one may be to be worth it. */
const MOST = 45;
const WORTH = 6;
/** Times the specimen that explains the readings best is looked for anew. */
const ROUNDS = 3;
/** A specimen that moves by less, in standard deviations, has been found. */
const FOUND = 0.15;

/**
 * What a fault makes of a specimen is far from linear where junctions saturate or close: for the ways in the
 * running the specimen that explains the readings best is looked for, and the spread linearised about that
 * (iterated Gauss-Newton; Laplace's approximation of the likelihood there). Always the likeliest next.
 */
export function bringCloser(inquiry: Inquiry, hypotheses: readonly Hypothesis[]): void {
  const left = new Set(hypotheses.filter(({ fit }) => fit !== undefined));
  let best = Number.NEGATIVE_INFINITY;
  for (let count = 0; count < MOST && left.size > 0; count++) {
    const next = [...left].reduce((a, b) => (b.logWeight > a.logWeight ? b : a));
    if (next.logWeight < best - WORTH) return;
    left.delete(next);
    closer(inquiry, next);
    best = Math.max(best, next.logWeight);
  }
}

interface Specimen {
  readonly shifts: Float64Array;
  readonly seen: Seen;
  /** Squared distance from the readings and from the middle, in standard deviations. */
  readonly cost: number;
  readonly fit: Fit;
}

function closer(inquiry: Inquiry, hypothesis: Hypothesis): void {
  const amount = amountOf(inquiry, hypothesis);
  const size = inquiry.workshop.variables.length + (amount === undefined ? 0 : 1);
  let at = specimenAt(inquiry, hypothesis, amount, new Float64Array(size));
  for (let round = 0; at !== undefined && round < ROUNDS; round++) {
    const goal = explained(at);
    const step = goal.map((each, v) => each - at!.shifts[v]!);
    const next = improved(inquiry, hypothesis, amount, at, step);
    if (next === undefined) break;
    at = next;
    if (Math.hypot(...step) < FOUND) break;
  }
  if (at === undefined) return;
  hypothesis.fit = at.fit;
  hypothesis.close = true;
  hypothesis.logWeight = hypothesis.logPrior + at.fit.logLikelihood;
  if (amount !== undefined) hypothesis.shift = at.shifts[size - 1]! * hypothesis.within!;
}

/** The whole step, or half or a quarter of it, whichever is the first to be better; nothing if none is. */
function improved(
  inquiry: Inquiry,
  hypothesis: Hypothesis,
  amount: Variable | undefined,
  from: Specimen,
  step: Float64Array,
): Specimen | undefined {
  for (const share of [1, 0.4, 0.1]) {
    const shifts = from.shifts.map((each, v) => each + share * step[v]!);
    const found = specimenAt(inquiry, hypothesis, amount, shifts);
    if (found !== undefined && found.cost < from.cost) return found;
  }
  return undefined;
}

/** The shifts that explain the readings best by the effects at a specimen. */
function explained({ seen, fit, shifts }: Specimen): Float64Array {
  return shifts.map((_, v) => seen.effects!.reduce((sum, own, k) => sum + own[v]! * fit.weighted[k]!, 0));
}

function specimenAt(
  inquiry: Inquiry,
  { way }: Hypothesis,
  amount: Variable | undefined,
  shifts: Float64Array,
): Specimen | undefined {
  const seen = inquiry.seeSpecimen(way, amount, shifts);
  if (seen === undefined) return undefined;
  const { readings, values, healthy, conditions } = inquiry;
  const covariance = inquiry.covariance(readings, seen, values, healthy);
  const residual = values.map((value, k) => value - seen.mean[k]!);
  const r = residual.map((each, k) => {
    const own = seen.effects![k]!;
    return own.reduce((sum, effect, v) => sum + effect * shifts[v]!, each);
  });
  const fit = fitOf(r, covariance, inquiry.ranges());
  if (fit === undefined) return undefined;
  let cost = shifts.reduce((sum, each) => sum + each * each, 0);
  residual.forEach((each, k) => {
    if (k === fit.slip) return;
    const { own, common } = noiseOf(
      readings[k]!.look,
      values[k]!,
      seen.mean[k]!,
      healthy[k]!,
      conditions.accuracy,
    );
    cost += each ** 2 / (own ** 2 + common ** 2);
  });
  return { shifts, seen, cost, fit };
}

/** A fault's amount as one more thing that differs from specimen to specimen. */
function amountOf({ workshop }: Inquiry, { way, within }: Hypothesis): Variable | undefined {
  if (way?.amount === undefined || within === undefined) return undefined;
  return amountVariable(way, within, (part) => workshop.indexOf(part));
}

function amountVariable(way: Way, within: number, indexOf: (part: string) => number): Variable | undefined {
  const [part, values] =
    Object.entries(way.changes).find(([, own]) => Object.values(own).includes(way.amount!)) ?? [];
  if (part === undefined) return undefined;
  const keys = Object.keys(values!).filter((key) => values![key] === way.amount);
  // `at` counts in multiples of a tolerance, √3 standard deviations each
  const at = (t: number) => way.amount! * Math.exp(within * Math.sqrt(3) * t);
  return { part, quantity: "amount", index: indexOf(part), values: keys.map((key) => ({ key, at })) };
}
