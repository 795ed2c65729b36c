import type { Elimination } from "./elimination.ts";
import { type CodedFunction, MachineCode } from "./machine-code.ts";
import { BYTES, IMAGINARY, NUMBER, type Places } from "./places.ts";
import type { Reality } from "./reality.ts";
import { updatesOf } from "./updates.ts";

/** Locals of `factor`: two doubles come in; the rest are pairs. */
const OMEGA_FIRST = 0;
const OMEGA_SECOND = 1;
const OMEGA = 2;
/** All bits set for a lane whose pivots were large enough so far. */
const SOUND = 3;
/** The entry being worked on. */
const RE = 4;
const IM = 5;
const INVERSE_RE = 6;
const INVERSE_IM = 7;
const SCALE = 8;
/** Entries of L of the row being worked on. */
const FIRST_MULTIPLE = 9;

/** Code that factors g + jω·c of both lanes and returns 1 if every pivot was large enough, 0 if not. */
export function factorCode(elimination: Elimination, places: Places, reality: Reality): CodedFunction {
  const { size, fixed, firstVarying, diagonal } = elimination;
  const code = new MachineCode();
  code.get(OMEGA_FIRST).both().get(OMEGA_SECOND).replaceHalf(1).set(OMEGA);
  code.constantPair(1, 1).constantPair(0, 0).greaterPair().set(SOUND);
  let most = 0;
  for (let i = fixed; i < size; i++) {
    most = Math.max(most, diagonal[i] - firstVarying[i]);
    new RowWriter(code, elimination, places, reality, i).write();
  }
  code.get(SOUND).allTrue().toDouble();
  const pairs = FIRST_MULTIPLE - OMEGA + 2 * most;
  return { name: "factor", takesDoubles: 2, givesDouble: true, pairs, code };
}

/** One row, entry by entry: each is finished before the next is begun, so that few registers are needed. */
class RowWriter {
  readonly #code: MachineCode;
  readonly #elimination: Elimination;
  readonly #places: Places;
  readonly #reality: Reality;
  readonly #i: number;

  constructor(code: MachineCode, elimination: Elimination, places: Places, reality: Reality, i: number) {
    this.#code = code;
    this.#elimination = elimination;
    this.#places = places;
    this.#reality = reality;
    this.#i = i;
  }

  write(): void {
    const { start, firstVarying, diagonal, column } = this.#elimination;
    const i = this.#i;
    const updates = updatesOf(this.#elimination, i);
    for (let e = firstVarying[i]; e < start[i + 1]; e++) {
      this.#load(e);
      for (const [l, u] of updates.get(column[e]) ?? []) this.#takeProduct(l, u);
      if (e < diagonal[i]) this.#finishMultiple(e);
      else if (e === diagonal[i]) this.#finishPivot();
      else this.#store(e, RE);
    }
  }

  /** Local of an entry of L; its imaginary part is the next. */
  #multiple(l: number): number {
    return FIRST_MULTIPLE + 2 * (l - this.#elimination.firstVarying[this.#i]);
  }

  #load(e: number): void {
    const code = this.#code;
    code.loadTwice(this.#places.g + e * BYTES).set(RE);
    if (this.#elimination.isVarying[e] === 1) {
      code
        .get(OMEGA)
        .loadTwice(this.#places.c + e * BYTES)
        .mulPair()
        .set(IM);
    } else if (this.#reality.entry[e] === 0) code.constantPair(0, 0).set(IM);
  }

  /** entry ← entry − L(l)·U(u), both lanes. */
  #takeProduct(l: number, u: number): void {
    const code = this.#code;
    const from = this.#places.lu + u * NUMBER;
    const [lRe, lIm] = [this.#multiple(l), this.#multiple(l) + 1];
    const [realL, realU] = [this.#reality.entry[l] === 1, this.#reality.entry[u] === 1];
    code.get(RE).get(lRe).loadPair(from).mulPair().subPair();
    if (!(realL || realU)) {
      code
        .get(lIm)
        .loadPair(from + IMAGINARY)
        .mulPair()
        .addPair();
    }
    code.set(RE);
    if (realL && realU) return;
    code.get(IM);
    if (!realU) {
      code
        .get(lRe)
        .loadPair(from + IMAGINARY)
        .mulPair()
        .subPair();
    }
    if (!realL) code.get(lIm).loadPair(from).mulPair().subPair();
    code.set(IM);
  }

  /** L ← entry / pivot of its row of U, kept in registers and stored. */
  #finishMultiple(e: number): void {
    const code = this.#code;
    const k = this.#elimination.column[e];
    const inverse = this.#places.inverse + k * NUMBER;
    const complexPivot = this.#reality.pivot[k] === 0;
    const [lRe, lIm] = [this.#multiple(e), this.#multiple(e) + 1];
    code.loadPair(inverse).set(INVERSE_RE);
    if (complexPivot) code.loadPair(inverse + IMAGINARY).set(INVERSE_IM);
    code.get(RE).get(INVERSE_RE).mulPair();
    if (complexPivot) code.get(IM).get(INVERSE_IM).mulPair().subPair();
    code.set(lRe);
    if (this.#reality.entry[e] === 0) {
      code.get(IM).get(INVERSE_RE).mulPair();
      if (complexPivot) code.get(RE).get(INVERSE_IM).mulPair().addPair();
      code.set(lIm);
    }
    this.#store(e, lRe);
  }

  /** Stores an entry from a local and the one after it. */
  #store(e: number, local: number): void {
    const code = this.#code;
    const address = this.#places.lu + e * NUMBER;
    code.base().get(local).storePair(address);
    if (this.#reality.entry[e] === 1) return;
    code.base().get(local + 1);
    code.storePair(address + IMAGINARY);
  }

  /** Stores 1/pivot, and remembers whether the pivot is large enough beside its row. */
  #finishPivot(): void {
    const code = this.#code;
    const i = this.#i;
    const real = this.#reality.pivot[i] === 1;
    const inverse = this.#places.inverse + i * NUMBER;
    invert(code, real);
    code.base().get(INVERSE_RE).storePair(inverse);
    if (!real) {
      code
        .base()
        .get(INVERSE_IM)
        .storePair(inverse + IMAGINARY);
    }
    // what is no number is not greater than anything
    code.get(RE).absPair();
    if (!real) code.get(IM).absPair().addPair();
    code.loadTwice(this.#places.leastG + i * BYTES);
    code.get(OMEGA).loadTwice(this.#places.leastC + i * BYTES);
    code.mulPair().addPair().greaterPair().get(SOUND).bothBits().set(SOUND);
  }
}

/** 1/p = (re − j·im)/(re² + im²) of both lanes. */
function invert(code: MachineCode, real: boolean): void {
  if (real) {
    code.constantPair(1, 1).get(RE).divPair().set(INVERSE_RE);
    return;
  }
  code.constantPair(1, 1).get(RE).get(RE).mulPair().get(IM).get(IM).mulPair().addPair().divPair().set(SCALE);
  code.get(RE).get(SCALE).mulPair().set(INVERSE_RE);
  code.constantPair(0, 0).get(IM).get(SCALE).mulPair().subPair().set(INVERSE_IM);
}
