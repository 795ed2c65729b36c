import type { Hypothesis, Inquiry } from "./inquiry.ts";

/** Ways that are tried together: those alone nearest to some of the readings. */
const MOST_SINGLE = 160;
/** Pairs solved in full, those nearest when effects are simply added. */
const MOST_PAIRS = 60;

export interface PairOfFaults {
  readonly first: Hypothesis;
  readonly second: Hypothesis;
  readonly mean: Float64Array;
  /** ln(prior · likelihood), comparable with that of single faults. */
  readonly logWeight: number;
}

/** The best pairs of faults of different parts, likeliest first. */
export function bestPairs(
  inquiry: Inquiry,
  weighed: readonly Hypothesis[],
  most: number,
): readonly PairOfFaults[] {
  const { values, healthy } = inquiry;
  const single = inquiry.hypotheses
    .filter(({ way, mean }) => way !== undefined && moves(mean, healthy))
    .map((hypothesis) => ({ hypothesis, score: partial(inquiry, hypothesis) }))
    .sort((a, b) => b.score - a.score)
    .slice(0, MOST_SINGLE)
    .map(({ hypothesis }) => hypothesis);
  const rough = single.flatMap((first, k) =>
    single.slice(k + 1).flatMap((second) => {
      if (first.fault!.part === second.fault!.part) return [];
      const sum = first.mean.map((value, n) => value + second.mean[n]! - healthy[n]!);
      return [
        { first, second, distance: inquiry.passingDistance(sum) - 2 * (first.logPrior + second.logPrior) },
      ];
    }),
  );
  rough.sort((a, b) => a.distance - b.distance);
  const solved = rough.slice(0, MOST_PAIRS).flatMap(({ first, second }): PairOfFaults[] => {
    const logPrior = first.logPrior + second.logPrior;
    const changes = { ...first.way!.changes, ...second.way!.changes };
    const pair: Hypothesis = {
      way: { share: 1, changes },
      logPrior,
      mean: values,
      logWeight: Number.NEGATIVE_INFINITY,
      shift: 0,
      slope: slopes(first, second),
    };
    const mean = inquiry.see(pair.way, inquiry.readings, "loaded")?.mean;
    if (mean === undefined) return [];
    pair.mean = mean;
    inquiry.weighClosely(pair);
    return pair.fit === undefined ? [] : [{ first, second, mean, logWeight: pair.logWeight }];
  });
  const best = new Map<string, PairOfFaults>();
  for (const pair of solved.sort((a, b) => b.logWeight - a.logWeight)) {
    const key = [pair.first, pair.second]
      .map(({ fault }) => `${fault!.part} ${fault!.fault}`)
      .sort()
      .join("+");
    if (!best.has(key)) best.set(key, pair);
  }
  return weighed.length === 0 ? [] : [...best.values()].slice(0, most);
}

const moves = (mean: Float64Array, healthy: Float64Array) =>
  mean.some((value, k) => Math.abs(value - healthy[k]!) > 0.02);

/** Amounts are open by half a step of the grid in both: their directions as one. */
const slopes = ({ slope: a, within: wa = 0 }: Hypothesis, { slope: b, within: wb = 0 }: Hypothesis) =>
  (a ?? b ?? new Float64Array(0)).map((_, k) => (a?.[k] ?? 0) * wa + (b?.[k] ?? 0) * wb);

/** How much of what is wrong a fault puts right, whatever it spoils. */
function partial({ values, healthy, passingParts }: Inquiry, { mean }: Hypothesis): number {
  const before = passingParts(healthy);
  const after = passingParts(mean);
  let sum = 0;
  for (let k = 0; k < values.length; k++) sum += Math.max(-1, before[k]! - after[k]!);
  return sum;
}
