import type { Way } from "./draft.ts";
import type { Hypothesis } from "./inquiry.ts";

/** Faults whose grid is made finer where it comes nearest to the readings. */
const MOST_REFINED = 24;

/** The same fault by so many times its amount. */
function scaled(way: Way, by: number): Way {
  const { amount = 0, changes } = way;
  const own = (values: Readonly<Record<string, number>>) =>
    Object.fromEntries(
      Object.entries(values).map(([key, value]) => [key, value === amount ? value * by : value]),
    );
  return {
    ...way,
    amount: amount * by,
    changes: Object.fromEntries(Object.entries(changes).map(([part, values]) => [part, own(values)])),
  };
}

/**
 * Ways half-way between the nearest amount of a continuous fault and its neighbours: what a fault does is seldom
 * linear over a whole step. `near` is sorted, nearest first; `see` gives the readings of a way.
 */
export function refined(
  near: readonly Hypothesis[],
  all: readonly Hypothesis[],
  see: (way: Way) => Float64Array | undefined,
): readonly Hypothesis[] {
  const graded = near.filter(({ way }) => way?.amount !== undefined);
  const first = graded.filter(({ fault }, k) => graded.findIndex((each) => each.fault === fault) === k);
  return first.slice(0, MOST_REFINED).flatMap((hypothesis) => {
    const grid = all.filter(({ fault }) => fault === hypothesis.fault);
    const at = grid.indexOf(hypothesis);
    return [grid[at - 1], grid[at + 1]].flatMap((other) =>
      other === undefined ? [] : halfway(hypothesis, other, see),
    );
  });
}

function halfway(
  from: Hypothesis,
  to: Hypothesis,
  see: (way: Way) => Float64Array | undefined,
): Hypothesis[] {
  const step = Math.log(to.way!.amount! / from.way!.amount!);
  const way = scaled(from.way!, Math.exp(step / 2));
  const mean = see(way);
  if (mean === undefined || !(Math.abs(step) > 1e-6)) return [];
  return [
    {
      ...from,
      way,
      mean,
      slope: to.mean.map((value, k) => (value - from.mean[k]!) / step),
      within: (from.within ?? 0) / 2,
    },
  ];
}
