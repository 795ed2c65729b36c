import type { Fault } from "./faults.ts";
import type { Hypothesis, Inquiry } from "./inquiry.ts";
import { cholesky, solveCholesky } from "./matrix.ts";

/** A fault with all its amounts added up. */
export interface Weighed {
  /** None: nothing is wrong. */
  readonly fault?: Fault;
  readonly probability: number;
  /** Its likeliest way. */
  readonly best: Hypothesis;
  /** All ways that count, with their share of the whole. */
  readonly ways: readonly { readonly hypothesis: Hypothesis; readonly probability: number }[];
  /** Of a continuous fault: the middle of the amounts that fit. */
  readonly amount?: number;
}

/** Adds up the ways of each fault; likeliest first. */
export function posterior(weighed: readonly Hypothesis[]): readonly Weighed[] {
  const most = weighed[0]?.logWeight ?? 0;
  const share = ({ logWeight }: Hypothesis) => Math.exp(logWeight - most);
  const total = weighed.reduce((sum, hypothesis) => sum + share(hypothesis), 0);
  const byFault = new Map<Fault | undefined, Hypothesis[]>();
  for (const hypothesis of weighed) {
    const own = byFault.get(hypothesis.fault);
    if (own === undefined) byFault.set(hypothesis.fault, [hypothesis]);
    else own.push(hypothesis);
  }
  return [...byFault]
    .map(([fault, own]): Weighed => {
      const ways = own.map((hypothesis) => ({ hypothesis, probability: share(hypothesis) / total }));
      const probability = ways.reduce((sum, way) => sum + way.probability, 0);
      const amount = middle(ways, probability);
      return {
        ...(fault && { fault }),
        probability,
        best: own[0]!,
        ways,
        ...(amount !== undefined && { amount }),
      };
    })
    .sort((a, b) => b.probability - a.probability);
}

function middle(ways: Weighed["ways"], probability: number): number | undefined {
  if (ways.some(({ hypothesis }) => hypothesis.way?.amount === undefined)) return undefined;
  const logs = ways.map(
    (way) => way.probability * (Math.log(way.hypothesis.way!.amount!) + way.hypothesis.shift),
  );
  return probability > 0 ? Math.exp(logs.reduce((sum, each) => sum + each, 0) / probability) : undefined;
}

/** What a fault makes the readings show, its amount as it fits best. */
export const fitted = ({ best: { mean, slope, shift } }: Weighed): Float64Array =>
  slope === undefined ? mean : mean.map((value, k) => value + slope[k]! * shift);

/** Squared distance, in standard deviations, below which readings do not tell two faults apart. */
const ALIKE = 0.5;

/** Faults that none of the readings tells from the first of their group, groups by their whole probability. */
export function groupsOf(
  inquiry: Inquiry,
  faults: readonly Weighed[],
  most: number,
): readonly (readonly Weighed[])[] {
  const groups: { readonly factor: Float64Array; readonly members: Weighed[] }[] = [];
  for (const each of faults) {
    const group = groups.find(
      ({ factor, members }) => distance(factor, fitted(each), fitted(members[0]!)) < ALIKE,
    );
    if (group !== undefined) group.members.push(each);
    else if (groups.length < most) {
      const factor = factorOf(inquiry, each);
      if (factor !== undefined) groups.push({ factor, members: [each] });
    }
  }
  const whole = (members: readonly Weighed[]) =>
    members.reduce((sum, { probability }) => sum + probability, 0);
  return groups.map(({ members }) => members).sort((a, b) => whole(b) - whole(a));
}

function factorOf(inquiry: Inquiry, { best }: Weighed): Float64Array | undefined {
  const seen = inquiry.see(best.way, inquiry.readings, "spread");
  if (seen === undefined) return undefined;
  const covariance = inquiry.covariance(inquiry.readings, seen, inquiry.values, inquiry.healthy);
  return cholesky(covariance, inquiry.readings.length) ? covariance : undefined;
}

function distance(factor: Float64Array, a: Float64Array, b: Float64Array): number {
  const r = a.map((value, k) => value - b[k]!);
  const weighted = r.slice();
  solveCholesky(factor, r.length, weighted);
  return r.reduce((sum, each, k) => sum + each * weighted[k]!, 0);
}
