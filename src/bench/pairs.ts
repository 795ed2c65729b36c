/** Best-matched pairs of transistors, for push-pull stages. */

/** Up to so many samples the best of all pairings is found; above, a good one. */
export const EXACT_UP_TO = 18;

export interface Pairing {
  /** Indices of the samples of each pair. */
  readonly pairs: readonly (readonly [number, number])[];
  /** Of all pairings there are, none has a smaller sum. */
  readonly exact: boolean;
}

/**
 * Pairs `count` samples so that the sum of `weight(a, b)` (0 or more; Infinity: never) is least. With an odd
 * number, or where a sample fits no other, some stay single; as many pairs as possible are made.
 */
export function bestPairs(count: number, weight: (a: number, b: number) => number): Pairing {
  if (count <= EXACT_UP_TO) return { pairs: exactPairs(count, weight), exact: true };
  return { pairs: improved(greedyPairs(count, weight), weight), exact: false };
}

/** A single sample weighs more than any pair. */
const SINGLE = 1e6;

/** Dynamic programming over sets of samples (bits): the lowest one goes with each other, or stays single. */
function exactPairs(count: number, weight: (a: number, b: number) => number): (readonly [number, number])[] {
  const all = 2 ** count;
  const least = new Float64Array(all);
  const mate = new Int8Array(all).fill(-1);
  for (let set = 1; set < all; set++) {
    const first = 31 - Math.clz32(set & -set);
    const rest = set & (set - 1);
    least[set] = SINGLE + least[rest]!;
    for (let other = first + 1; other < count; other++) {
      if ((rest & (1 << other)) === 0) continue;
      const sum = weight(first, other) + least[rest & ~(1 << other)]!;
      if (sum < least[set]!) {
        least[set] = sum;
        mate[set] = other;
      }
    }
  }
  const pairs: (readonly [number, number])[] = [];
  for (let set = all - 1; set > 0; ) {
    const first = 31 - Math.clz32(set & -set);
    const other = mate[set]!;
    set &= set - 1;
    if (other < 0) continue;
    pairs.push([first, other]);
    set &= ~(1 << other);
  }
  return pairs;
}

/** The lightest pair first, and so on. */
function greedyPairs(count: number, weight: (a: number, b: number) => number): [number, number][] {
  const all = Array.from({ length: count }, (_, a) =>
    Array.from({ length: count - a - 1 }, (_, k) => ({ a, b: a + 1 + k, w: weight(a, a + 1 + k) })),
  ).flat();
  const free = new Set(Array.from({ length: count }, (_, k) => k));
  const pairs: [number, number][] = [];
  for (const { a, b, w } of all.sort((one, other) => one.w - other.w)) {
    if (w >= SINGLE || !free.has(a) || !free.has(b)) continue;
    free.delete(a);
    free.delete(b);
    pairs.push([a, b]);
  }
  return pairs;
}

/** Exchanges partners between two pairs as long as that makes the sum smaller. */
function improved(
  pairs: [number, number][],
  weight: (a: number, b: number) => number,
): (readonly [number, number])[] {
  for (let changed = true; changed; ) {
    changed = false;
    for (let i = 0; i < pairs.length; i++) {
      for (let k = i + 1; k < pairs.length; k++) {
        const [[a, b], [c, d]] = [pairs[i]!, pairs[k]!];
        const now = weight(a, b) + weight(c, d) - 1e-12;
        const others: [[number, number], [number, number]][] = [
          [
            [a, c],
            [b, d],
          ],
          [
            [a, d],
            [b, c],
          ],
        ];
        const better = others.find(([p, q]) => weight(...p) + weight(...q) < now);
        if (better === undefined) continue;
        [pairs[i], pairs[k]] = better;
        changed = true;
      }
    }
  }
  return pairs;
}
