import type { CodedFunction } from "./machine-code.ts";
import { PairMachineCode } from "./pair-machine-code.ts";
import { BYTES, PAIR, type PairKinds, type PairPlaces } from "./pair-places.ts";
import { type PointPlaces, pointPlaces } from "./pair-points.ts";

/** A function of points by number: locals are the numbers, then pairs, then the points' addresses. */
interface OfPoints {
  readonly name: string;
  readonly count: number;
  readonly pairs: number;
  readonly givesDouble?: boolean;
}

function ofPoints(
  { name, count, pairs, givesDouble = false }: OfPoints,
  { stride }: PointPlaces,
  write: (code: PairMachineCode, pair: (n: number) => number, point: (n: number) => number) => void,
): CodedFunction {
  const code = new PairMachineCode();
  const pair = (n: number) => count + n;
  const point = (n: number) => count + pairs + n;
  for (let n = 0; n < count; n++) code.get(n).double(stride).mul().toAddress().set(point(n));
  write(code, pair, point);
  return { name, takesDoubles: count, givesDouble, pairs, integers: count, code };
}

/** The functions of `PairWork` on points, as straight-line code. */
export function pointsCode(places: PairPlaces, kinds: PairKinds, known: number): CodedFunction[] {
  const size = kinds.hasCharge.length;
  const within = pointPlaces(size, known);
  return [
    guessCode(size, places, within),
    takeCode(size, places, within),
    historyCode(places, within, kinds),
    gapsCode(size, places, within),
  ];
}

/** Both points' unknowns are the sums of four points', weighed. */
const guessCode = (size: number, places: PairPlaces, within: PointPlaces) =>
  ofPoints({ name: "guess", count: 4, pairs: 4 }, within, (code, pair, point) => {
    for (let n = 0; n < 4; n++) code.loadPair(places.guessWeights + n * PAIR).set(pair(n));
    for (let k = 0; k < size; k++) {
      code.base();
      for (let n = 0; n < 4; n++) {
        code.get(pair(n)).loadTwiceFrom(point(n), places.points + within.state + k * BYTES);
        code.mulPair();
        if (n > 0) code.addPair();
      }
      code.storePair(places.x + k * PAIR);
    }
  });

/** Copies unknowns, F and q out of the pairs. */
const takeCode = (size: number, places: PairPlaces, within: PointPlaces) =>
  ofPoints({ name: "take", count: 2, pairs: 1 }, within, (code, pair, point) => {
    const lists = [
      [places.x, within.state],
      [places.f, within.f],
      [places.q, within.q],
    ] as const;
    for (const [from, to] of lists) {
      for (let k = 0; k < size; k++) {
        code.loadPair(from + k * PAIR).set(pair(0));
        for (const which of [0, 1] as const)
          code
            .get(point(which))
            .get(pair(0))
            .storeHalf(which, places.points + to + k * BYTES);
      }
    }
  });

/** Pushes the sum of two neighbouring doubles of five points, weighed by pairs in locals. */
function sumOfFive(
  code: PairMachineCode,
  pair: (n: number) => number,
  point: (n: number) => number,
  at: number,
): void {
  for (let n = 0; n < 5; n++) {
    code.get(pair(n)).loadPairFrom(point(n), at).mulPair();
    if (n > 0) code.addPair();
  }
}

/** Right-hand side: what F of five points comes to, weighed, at the middle of rows with a charge, else 0. */
const historyCode = (places: PairPlaces, within: PointPlaces, { hasCharge }: PairKinds) =>
  ofPoints({ name: "history", count: 5, pairs: 6 }, within, (code, pair, point) => {
    const sum = pair(5);
    for (let n = 0; n < 5; n++) code.loadTwice(places.bendWeights + n * BYTES).set(pair(n));
    for (let k = 0; k < hasCharge.length; k += 2) {
      const rows = [k, k + 1].filter((row) => row < hasCharge.length);
      if (rows.some((row) => hasCharge[row] === 1)) {
        sumOfFive(code, pair, point, places.points + within.f + k * BYTES);
        code.set(sum);
      }
      for (const row of rows) {
        code.base().constantPair(0, 0);
        if (hasCharge[row] === 1)
          code
            .get(sum)
            .half((row - k) as 0 | 1)
            .replaceHalf(0);
        code.storePair(places.residual + row * PAIR);
      }
    }
  });

/**
 * The largest error of the end, in units of what is allowed: of the solution, and of what an interpolation
 * of five points misses.
 */
const gapsCode = (size: number, places: PairPlaces, within: PointPlaces) =>
  ofPoints({ name: "gaps", count: 5, pairs: 7, givesDouble: true }, within, (code, pair, point) => {
    const [largest, least] = [pair(5), pair(6)];
    for (let n = 0; n < 5; n++) code.loadTwice(places.gapWeights + n * BYTES).set(pair(n));
    code.loadTwice(places.gapWeights + 5 * BYTES).set(least);
    code.constantPair(0, 0).set(largest);
    for (let k = 0; k < size; k += 2) {
      code.get(largest);
      sumOfFive(code, pair, point, places.points + within.state + k * BYTES);
      code.absPair().get(least).subPair();
      code
        .loadPair(places.gapWeight + k * BYTES)
        .mulPair()
        .maxPair();
      // the solution at the end, of both
      code.loadTwice(places.dx + k * PAIR + BYTES);
      if (k + 1 < size) code.loadSingle(places.dx + (k + 1) * PAIR + BYTES).replaceHalf(1);
      code
        .absPair()
        .loadPair(places.storedWeight + k * BYTES)
        .mulPair()
        .maxPair()
        .set(largest);
    }
    code.get(largest).half(0).get(largest).half(1).max();
  });
