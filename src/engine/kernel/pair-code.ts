import type { CodedFunction } from "./machine-code.ts";
import { PairMachineCode } from "./pair-machine-code.ts";
import { BYTES, PAIR, type PairKinds, type PairPlaces } from "./pair-places.ts";
import type { Pattern } from "./pattern.ts";

/** Slots of each row. */
function slotsOfRows({ size, row }: Pattern): number[][] {
  const rows: number[][] = Array.from({ length: size }, () => []);
  for (let s = 0; s < row.length; s++) rows[row[s]].push(s);
  return rows;
}

const done = (name: string, pairs: number, code: PairMachineCode, givesDouble = false): CodedFunction => ({
  name,
  takesDoubles: 0,
  givesDouble,
  pairs,
  code,
});

/** Code for the linear parts: f = source − G·x and q = C·x at both points. */
export function linearCode(pattern: Pattern, places: PairPlaces, { reactive }: PairKinds): CodedFunction {
  const code = new PairMachineCode();
  slotsOfRows(pattern).forEach((slots, row) => {
    const product = (base: number, s: number) =>
      code
        .loadTwice(base + s * BYTES)
        .loadPair(places.x + pattern.column[s] * PAIR)
        .mulPair();
    code.base().loadPair(places.source + row * PAIR);
    for (const s of slots) {
      product(places.linearG, s);
      code.subPair();
    }
    code.storePair(places.f + row * PAIR);
    code.base().constantPair(0, 0);
    for (const s of slots) {
      if (reactive[s] === 0) continue;
      product(places.linearC, s);
      code.addPair();
    }
    code.storePair(places.q + row * PAIR);
  });
  return done("linear", 0, code);
}

/** Code for what the formula leaves: coefficients·(q − q₀) − f + weight·f₀; −f alone where there is no charge. */
export function residualCode({ size }: Pattern, places: PairPlaces, { hasCharge }: PairKinds): CodedFunction {
  const code = new PairMachineCode();
  const [first, second, start, change] = [0, 1, 2, 3];
  code.loadPair(places.coefficients).set(first);
  code.loadPair(places.coefficients + PAIR).set(second);
  code.loadPair(places.startWeight).set(start);
  for (let k = 0; k < size; k++) {
    const f = places.f + k * PAIR;
    if (hasCharge[k] === 0) code.base().constantPair(0, 0).loadPair(f).subPair();
    else {
      code
        .loadPair(places.q + k * PAIR)
        .loadTwice(places.startQ + k * BYTES)
        .subPair()
        .set(change);
      code.base();
      code.get(first).get(change).halfTwice(0).mulPair();
      code.get(second).get(change).halfTwice(1).mulPair().addPair();
      code.loadPair(f).subPair();
      code
        .get(start)
        .loadTwice(places.startF + k * BYTES)
        .mulPair()
        .addPair();
    }
    code.storePair(places.residual + k * PAIR);
  }
  return done("residual", 4, code);
}

/** Code that takes the solution from x; returns the largest change, weighted. */
export function correctCode({ size }: Pattern, places: PairPlaces): CodedFunction {
  const code = new PairMachineCode();
  const [largest, change, total] = [0, 1, 2];
  for (let k = 0; k < size; k++) {
    const x = places.x + k * PAIR;
    code.loadPair(places.dx + k * PAIR).set(change);
    code.base().loadPair(x).get(change).subPair().storePair(x);
    code
      .get(change)
      .absPair()
      .loadTwice(places.weight + k * BYTES)
      .mulPair()
      .set(change);
    code.get(largest).get(change).largerPair().set(largest);
    code.get(total).get(change).addPair().set(total);
  }
  // a quick comparison passes over what is no number: the sum does not, and counts for nothing otherwise
  code.get(largest).half(0).get(largest).half(1).max();
  code.get(total).half(0).get(total).half(1).plus().double(0).times().plus();
  return done("correct", 3, code, true);
}
