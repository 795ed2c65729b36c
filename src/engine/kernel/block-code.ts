import type { Elimination } from "./elimination.ts";
import type { CodedFunction } from "./machine-code.ts";
import { LEAST_BLOCK_PIVOT } from "./pair-loops.ts";
import { PairMachineCode } from "./pair-machine-code.ts";
import {
  BLOCK,
  BYTES,
  CONDUCTANCE,
  PAIR,
  type PairKinds,
  type PairPlaces,
  slotsOfEntries,
} from "./pair-places.ts";
import { Reality } from "./reality.ts";

/** Locals of `factor`, all pairs. */
const FIRST_COLUMN = 0;
const SECOND_COLUMN = 1;
/** All bits set as long as every pivot was large enough. */
const SOUND = 2;
const LARGEST = 3;
const L0 = 4;
const L1 = 5;
const D0 = 6;
const D1 = 7;
const FIRST_ENTRY = 8;

/**
 * Which entries and pivots are multiples of the unit block from first to last: those that no varying slot
 * reaches. They are kept as one number, twice.
 */
export const plainness = (elimination: Elimination): Reality =>
  new Reality({ ...elimination, fixed: 0, firstVarying: elimination.start });

interface Row {
  readonly code: PairMachineCode;
  readonly elimination: Elimination;
  readonly places: PairPlaces;
  readonly kinds: PairKinds;
  readonly plain: Reality;
  readonly slots: Int32Array;
  readonly i: number;
  /** Local of an entry's first column; the second is the next. */
  readonly local: (e: number) => number;
}

/** Long functions take a compiler more than their share of time: one has about so many multiply-adds of blocks. */
const PART = 100;

/**
 * Code that factors the matrix of blocks (g 0, 0 g′) + (c c′)·coefficients: functions `factor0`, `factor1`, … for
 * the rows from first to last, each of which returns 1, or 0 if a pivot was too small beside its row of U.
 */
export function blockFactorCode(
  elimination: Elimination,
  places: PairPlaces,
  kinds: PairKinds,
): CodedFunction[] {
  const plain = plainness(elimination);
  const slots = slotsOfEntries(elimination);
  return partsOf(elimination).map(([from, to], n) => {
    const code = new PairMachineCode();
    code.constantPair(0, 0).constantPair(-1, -1).greaterPair().set(SOUND);
    code.loadPair(places.coefficients).set(FIRST_COLUMN);
    code.loadPair(places.coefficients + PAIR).set(SECOND_COLUMN);
    let longest = 0;
    for (let i = from; i < to; i++) {
      const first = elimination.start[i];
      longest = Math.max(longest, elimination.start[i + 1] - first);
      const local = (e: number) => FIRST_ENTRY + 2 * (e - first);
      factorRow({ code, elimination, places, kinds, plain, slots, i, local });
    }
    code.get(SOUND).allTrue().toDouble();
    const pairs = FIRST_ENTRY + 2 * longest;
    return { name: `factor${n}`, takesDoubles: 0, givesDouble: true, pairs, code };
  });
}

/** Rows from … to − 1 of each part. */
function partsOf({ size, start, diagonal, column }: Elimination): (readonly [from: number, to: number])[] {
  const parts: (readonly [number, number])[] = [];
  let from = 0;
  let work = 0;
  for (let i = 0; i < size; i++) {
    for (let e = start[i]; e < diagonal[i]; e++) work += start[column[e] + 1] - diagonal[column[e]];
    if (work < PART && i < size - 1) continue;
    parts.push([from, i + 1]);
    from = i + 1;
    work = 0;
  }
  return parts;
}

function factorRow(row: Row): void {
  const { elimination, i } = row;
  const { start, diagonal, column } = elimination;
  const entryAt = new Map<number, number>();
  for (let e = start[i]; e < start[i + 1]; e++) {
    entryAt.set(column[e], e);
    load(row, e);
  }
  for (let e = start[i]; e < diagonal[i]; e++) {
    multiplier(row, e);
    const k = column[e];
    for (let u = diagonal[k] + 1; u < start[k + 1]; u++) takeProduct(row, e, u, entryAt.get(column[u]) ?? e);
  }
  finishRow(row);
}

/** An entry as it is before elimination. */
function load({ code, places, kinds, plain, slots, local }: Row, e: number): void {
  const s = slots[e];
  const to = local(e);
  const g = places.g + s * CONDUCTANCE * BYTES;
  if (plain.entry[e] === 1) {
    if (s < 0) code.constantPair(0, 0).set(to);
    else code.loadTwice(g).set(to);
    return;
  }
  for (const column of [0, 1]) {
    if (s < 0) code.constantPair(0, 0);
    else code.loadPair(g + column * BYTES);
    if (s >= 0 && kinds.reactive[s] === 1) {
      code.get(FIRST_COLUMN + column).loadTwice(places.c + s * PAIR + column * BYTES);
      code.mulPair().addPair();
    }
    code.set(to + column);
  }
}

/** entry ← entry · pivot⁻¹ of its row of U, kept in registers and stored. */
function multiplier({ code, elimination, places, plain, local }: Row, e: number): void {
  const k = elimination.column[e];
  const [c0, c1] = [local(e), local(e) + 1];
  const inverse = places.inverse + k * BLOCK;
  const address = places.lu + e * BLOCK;
  // the plainness of a multiplier includes that of its pivot; that of the entry before is not known any more
  if (plain.entry[e] === 1) {
    code.get(c0).loadPair(inverse).mulPair().set(L0);
    code.base().get(L0).storePair(address);
    return;
  }
  if (plain.pivot[k] === 1) {
    code.get(c0).loadPair(inverse).mulPair().set(L0);
    code.get(c1).loadPair(inverse).mulPair().set(L1);
  } else {
    for (const column of [0, 1]) {
      const at = inverse + column * PAIR;
      code.get(c0).loadTwice(at).mulPair();
      code
        .get(c1)
        .loadTwice(at + BYTES)
        .mulPair()
        .addPair();
      code.set(L0 + column);
    }
  }
  code.base().get(L0).storePair(address);
  code
    .base()
    .get(L1)
    .storePair(address + PAIR);
}

/** target ← target − L·U(u). */
function takeProduct({ code, places, plain, local }: Row, e: number, u: number, target: number): void {
  const from = places.lu + u * BLOCK;
  const to = local(target);
  const [plainL, plainU] = [plain.entry[e] === 1, plain.entry[u] === 1];
  if (plainL && plainU) {
    if (plain.entry[target] === 1) code.get(to).get(L0).loadPair(from).mulPair().subPair().set(to);
    else {
      for (const column of [0, 1]) {
        code
          .get(to + column)
          .get(L0)
          .loadPair(from)
          .mulPair();
        code
          .constantPair(1 - column, column)
          .mulPair()
          .subPair()
          .set(to + column);
      }
    }
    return;
  }
  for (const column of [0, 1]) {
    code.get(to + column);
    if (plainL)
      code
        .get(L0)
        .loadPair(from + column * PAIR)
        .mulPair()
        .subPair();
    else if (plainU)
      code
        .get(L0 + column)
        .loadPair(from)
        .mulPair()
        .subPair();
    else {
      const at = from + column * PAIR;
      code.get(L0).loadTwice(at).mulPair().subPair();
      code
        .get(L1)
        .loadTwice(at + BYTES)
        .mulPair()
        .subPair();
    }
    code.set(to + column);
  }
}

/** Stores the row of U and the inverse of its pivot; judges the pivot. */
function finishRow({ code, elimination, places, plain, i, local }: Row): void {
  const { start, diagonal } = elimination;
  code.constantPair(0, 0).set(LARGEST);
  for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
    for (let column = 0; column < (plain.entry[e] === 1 ? 1 : 2); column++) {
      code
        .base()
        .get(local(e) + column)
        .storePair(places.lu + e * BLOCK + column * PAIR);
      code
        .get(LARGEST)
        .get(local(e) + column)
        .absPair()
        .largerPair()
        .set(LARGEST);
    }
  }
  const pivot = local(diagonal[i]);
  const inverse = places.inverse + i * BLOCK;
  if (plain.pivot[i] === 1) {
    code.constantPair(1, 1).get(pivot).divPair().set(L0);
    code.base().get(L0).storePair(inverse);
    judge(code, (least) => code.get(pivot).absPair().get(LARGEST).constantPair(least, least).mulPair());
    return;
  }
  invert(code, pivot);
  code.base().get(L0).storePair(inverse);
  code
    .base()
    .get(L1)
    .storePair(inverse + PAIR);
  judge(code, (least) => {
    code.get(D1).absPair().get(LARGEST).get(LARGEST).mulPair();
    code.constantPair(least ** 2, least ** 2).mulPair();
  });
}

/** Takes note of whether the first of two is greater than the second. */
function judge(code: PairMachineCode, push: (least: number) => void): void {
  code.get(SOUND);
  push(LEAST_BLOCK_PIVOT);
  code.greaterPair().bothBits().set(SOUND);
}

/** L0, L1 ← columns of the inverse of the block at `pivot`; D1 ← its determinant. */
function invert(code: PairMachineCode, pivot: number): void {
  const [c0, c1] = [pivot, pivot + 1];
  const twice = (local: number, which: 0 | 1) => code.get(local).halfTwice(which);
  twice(c0, 0);
  twice(c1, 1).mulPair();
  twice(c1, 0);
  twice(c0, 1).mulPair().subPair().set(D1);
  code.constantPair(1, 1).get(D1).divPair().set(D0);
  // (d −c) and (−b a)
  code.get(c1).halfTwice(1).get(D0).mulPair();
  code.constantPair(0, 0).get(c0).subPair().get(D0).mulPair().half(1).replaceHalf(1).set(L0);
  code.constantPair(0, 0).get(c1).subPair().get(D0).mulPair();
  code.get(c0).get(D0).mulPair().half(0).replaceHalf(1).set(L1);
}

const SUM = 0;

/** Code that takes the right-hand side, by row, through L and U; the solution is by unknown. */
export function blockSolveCode(elimination: Elimination, places: PairPlaces): CodedFunction {
  const { size, start, diagonal, column, pivotRow, pivotColumn } = elimination;
  const code = new PairMachineCode();
  const plain = plainness(elimination);
  const y = (i: number) => places.y + i * PAIR;
  const dx = (i: number) => places.dx + pivotColumn[i] * PAIR;
  const reduce = (e: number, from: number) => {
    const at = places.lu + e * BLOCK;
    if (plain.entry[e] === 1) code.get(SUM).loadPair(at).loadPair(from).mulPair().subPair();
    else {
      code.get(SUM).loadPair(at).loadTwice(from).mulPair().subPair();
      code
        .loadPair(at + PAIR)
        .loadTwice(from + BYTES)
        .mulPair()
        .subPair();
    }
    code.set(SUM);
  };
  for (let i = 0; i < size; i++) {
    code.loadPair(places.residual + pivotRow[i] * PAIR).set(SUM);
    for (let e = start[i]; e < diagonal[i]; e++) reduce(e, y(column[e]));
    code.base().get(SUM).storePair(y(i));
  }
  for (let i = size - 1; i >= 0; i--) {
    code.loadPair(y(i)).set(SUM);
    for (let e = diagonal[i] + 1; e < start[i + 1]; e++) reduce(e, dx(column[e]));
    const inverse = places.inverse + i * BLOCK;
    code.base();
    if (plain.pivot[i] === 1) code.get(SUM).loadPair(inverse).mulPair();
    else {
      code.get(SUM).halfTwice(0).loadPair(inverse).mulPair();
      code
        .get(SUM)
        .halfTwice(1)
        .loadPair(inverse + PAIR)
        .mulPair()
        .addPair();
    }
    code.storePair(dx(i));
  }
  return { name: "solve", takesDoubles: 0, givesDouble: false, pairs: 1, code };
}
