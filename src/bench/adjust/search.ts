import { type Read, root } from "../root.ts";

export interface Sample {
  readonly x: number;
  /** Undefined where there is none. */
  readonly y: number | undefined;
}

/** Samples of a function at `count` evenly spaced places from 0 to 1. */
export const scan = (f: Read, count: number): Sample[] =>
  Array.from({ length: count }, (_, k) => ({ x: k / (count - 1), y: f(k / (count - 1)) }));

const GOLDEN = (Math.sqrt(5) - 1) / 2;
const WIDTH = 1e-10;

/**
 * Where f is least between `a` and `b`, by golden section: J. Kiefer, "Sequential minimax search for a
 * maximum", Proceedings of the American Mathematical Society 4 (1953).
 */
export function leastBetween(f: Read, a: number, b: number): number {
  const of = (x: number) => f(x) ?? Number.POSITIVE_INFINITY;
  let [low, high] = [a, b];
  let [left, right] = [high - GOLDEN * (high - low), low + GOLDEN * (high - low)];
  let [atLeft, atRight] = [of(left), of(right)];
  while (high - low > WIDTH) {
    if (atLeft <= atRight) {
      [high, right, atRight] = [right, left, atLeft];
      left = high - GOLDEN * (high - low);
      atLeft = of(left);
    } else {
      [low, left, atLeft] = [left, right, atRight];
      right = low + GOLDEN * (high - low);
      atRight = of(right);
    }
  }
  return atLeft <= atRight ? left : right;
}

/** The sample nearest to the least value, refined between its neighbours; undefined if f has no value. */
export function least(f: Read, samples: readonly Sample[]): number | undefined {
  const best = samples.reduce<number | undefined>((found, { y }, k) => {
    if (y === undefined) return found;
    return found === undefined || y < samples[found]!.y! ? k : found;
  }, undefined);
  if (best === undefined) return undefined;
  const { x, y } = samples[best]!;
  const refined = leastBetween(f, samples[best - 1]?.x ?? x, samples[best + 1]?.x ?? x);
  const atRefined = f(refined);
  return atRefined !== undefined && atRefined < y! ? refined : x;
}

/** All roots that the samples give away: changes of sign, and turns that come near zero without one. */
export function roots(f: Read, samples: readonly Sample[], accuracy: number): readonly number[] {
  const found: number[] = [];
  const take = (x: number | undefined) => {
    if (x !== undefined && !found.some((other) => Math.abs(other - x) < 1e-9)) found.push(x);
  };
  samples.forEach(({ x, y }, k) => {
    const next = samples[k + 1];
    if (y === undefined) return;
    if (Math.abs(y) <= accuracy) take(x);
    if (next?.y !== undefined && y * next.y < 0) take(root(f, x, next.x, accuracy));
    for (const turn of turningRoots(f, samples, k, accuracy)) take(turn);
  });
  return found.toSorted((a, b) => a - b);
}

/** Roots on both sides of a turn between samples that all have the same sign. */
function turningRoots(
  f: Read,
  samples: readonly Sample[],
  k: number,
  accuracy: number,
): readonly (number | undefined)[] {
  const [before, here, after] = [samples[k - 1], samples[k], samples[k + 1]];
  if (before?.y === undefined || here?.y === undefined || after?.y === undefined) return [];
  const sign = Math.sign(here.y);
  const size = (y: number) => sign * y;
  const turns = size(before.y) > size(here.y) && size(after.y) >= size(here.y) && size(here.y) > 0;
  if (!turns) return [];
  const bottom = leastBetween(
    (x) => {
      const y = f(x);
      return y === undefined ? undefined : size(y);
    },
    before.x,
    after.x,
  );
  const atBottom = f(bottom);
  if (atBottom === undefined || size(atBottom) > accuracy) return [];
  if (Math.abs(atBottom) <= accuracy) return [bottom];
  return [root(f, before.x, bottom, accuracy), root(f, bottom, after.x, accuracy)];
}
