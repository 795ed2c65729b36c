/** A function that has no value everywhere: an operating point may be missing. */
export type Read = (x: number) => number | undefined;

const MOST_STEPS = 80;

/**
 * A root between `a` and `b`, where f has opposite signs, to the last bits of x. Ridders' method: C. Ridders,
 * "A new algorithm for computing a single root of a real continuous function", IEEE Transactions on Circuits
 * and Systems 26 (1979). Undefined where f has no value on the way, or jumps across zero.
 */
export function root(f: Read, a: number, b: number, accuracy: number): number | undefined {
  let [low, high] = [a, b];
  let atLow = f(low);
  let atHigh = f(high);
  for (let step = 0; step < MOST_STEPS; step++) {
    if (atLow === undefined || atHigh === undefined) return undefined;
    if (Math.abs(atLow) <= accuracy) return low;
    if (Math.abs(atHigh) <= accuracy) return high;
    const middle = (low + high) / 2;
    if (middle === low || middle === high) return undefined;
    const atMiddle = f(middle);
    if (atMiddle === undefined) return undefined;
    const bend = Math.sqrt(atMiddle * atMiddle - atLow * atHigh);
    const next = middle + ((middle - low) * Math.sign(atLow - atHigh) * atMiddle) / bend;
    const atNext = bend > 0 ? f(next) : atMiddle;
    if (atNext === undefined) return undefined;
    const points = [
      { x: low, y: atLow },
      { x: middle, y: atMiddle },
      { x: next, y: atNext },
      { x: high, y: atHigh },
    ].toSorted((p, q) => p.x - q.x);
    const change = points.findIndex(({ y }, k) => k > 0 && points[k - 1]!.y * y <= 0);
    const [left, right] = [points[Math.max(0, change - 1)]!, points[Math.max(1, change)]!];
    [low, atLow, high, atHigh] = [left.x, left.y, right.x, right.y];
  }
  return undefined;
}
