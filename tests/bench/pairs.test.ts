import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bestPairs, EXACT_UP_TO } from "../../src/bench/pairs.ts";

/** Every way of pairing all of `list`, one left over where it is odd: the least sum. */
function leastSum(list: readonly number[], weight: (a: number, b: number) => number): number {
  const [first, ...rest] = list;
  if (first === undefined || list.length === 1) return 0;
  const paired = rest.map(
    (other) =>
      weight(first, other) +
      leastSum(
        rest.filter((one) => one !== other),
        weight,
      ),
  );
  const single = list.length % 2 === 1 ? [leastSum(rest, weight)] : [];
  return Math.min(...paired, ...single);
}

const sumOf = (pairs: readonly (readonly [number, number])[], weight: (a: number, b: number) => number) =>
  pairs.reduce((sum, [a, b]) => sum + weight(a, b), 0);

const values = (minLength: number, maxLength: number) =>
  fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength, maxLength });

describe("best-matched pairs", () => {
  it("have the least sum of all pairings, by trying every one", () => {
    fc.assert(
      fc.property(values(0, 8), values(8, 8), (list, others) => {
        const weight = (a: number, b: number) =>
          Math.abs(list[a]! - list[b]!) + 0.3 * Math.abs(others[a]! - others[b]!);
        const { pairs, exact } = bestPairs(list.length, weight);
        expect(exact).toBe(true);
        expect(pairs).toHaveLength(Math.floor(list.length / 2));
        expect(new Set(pairs.flat()).size).toBe(2 * pairs.length);
        const least = leastSum(
          list.map((_, k) => k),
          weight,
        );
        expect(sumOf(pairs, weight)).toBeCloseTo(least, 9);
      }),
    );
  });

  it("are not the greedy ones where those cost more: 0, 4, 5, 9", () => {
    const list = [0, 4, 5, 9];
    const weight = (a: number, b: number) => (list[a]! - list[b]!) ** 2;
    expect(bestPairs(4, weight).pairs).toEqual([
      [0, 1],
      [2, 3],
    ]);
  });

  it("leave single what fits no other", () => {
    expect(bestPairs(2, () => Infinity).pairs).toEqual([]);
    const apart = (a: number, b: number) => (a % 2 === b % 2 ? 1 : Infinity);
    expect(bestPairs(5, apart).pairs).toHaveLength(2);
  });

  it("of too many samples to try all are still neighbours on a line", () => {
    const count = EXACT_UP_TO + 6;
    const { pairs, exact } = bestPairs(count, (a, b) => (a - b) ** 2);
    expect(exact).toBe(false);
    expect(pairs).toHaveLength(count / 2);
    for (const [a, b] of pairs) expect(Math.abs(a - b)).toBe(1);
  });
});
