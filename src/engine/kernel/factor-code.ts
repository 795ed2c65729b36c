import type { Elimination } from "./elimination.ts";
import { type CodedFunction, MachineCode } from "./machine-code.ts";
import { BYTES, IMAGINARY, NUMBER, type Places } from "./places.ts";
import type { Reality } from "./reality.ts";

/** Locals of `factor`: two doubles come in; the rest are pairs. */
const OMEGA_FIRST = 0;
const OMEGA_SECOND = 1;
const OMEGA = 2;
/** Largest ratio so far of a row to its pivot. */
const WORST = 3;
const L_RE = 4;
const L_IM = 5;
const INVERSE_RE = 6;
const INVERSE_IM = 7;
const FIRST_ENTRY = 8;

/** What writing a row needs at hand. */
interface Row {
  readonly code: MachineCode;
  readonly elimination: Elimination;
  readonly places: Places;
  readonly reality: Reality;
  readonly i: number;
  /** Local of an entry's real part; its imaginary part is the next. */
  readonly local: (e: number) => number;
}

/** Code that factors g + jω·c of both lanes and returns how small the smallest pivot was. */
export function factorCode(elimination: Elimination, places: Places, reality: Reality): CodedFunction {
  const { size, fixed, start, firstVarying } = elimination;
  const code = new MachineCode();
  code.get(OMEGA_FIRST).both().get(OMEGA_SECOND).replaceHalf(1).set(OMEGA);
  let longest = 0;
  for (let i = fixed; i < size; i++) {
    const first = firstVarying[i];
    longest = Math.max(longest, start[i + 1] - first);
    factorRow({ code, elimination, places, reality, i, local: (e) => FIRST_ENTRY + 2 * (e - first) });
  }
  code.get(WORST).half(0).get(WORST).half(1).max();
  const pairs = FIRST_ENTRY - OMEGA + 2 * longest;
  return { name: "factor", takesDoubles: 2, givesDouble: true, pairs, code };
}

/** Row i in registers: loaded, reduced by each row of U above it, inverted, stored. */
function factorRow(row: Row): void {
  const { code, elimination, places, reality, i, local } = row;
  const { start, firstVarying, diagonal, column, isVarying } = elimination;
  const entryAt = new Map<number, number>();
  for (let e = firstVarying[i]; e < start[i + 1]; e++) {
    entryAt.set(column[e], e);
    code.loadTwice(places.g + e * BYTES).set(local(e));
    if (isVarying[e] === 1) {
      code
        .get(OMEGA)
        .loadTwice(places.c + e * BYTES)
        .mulPair()
        .set(local(e) + 1);
    } else if (reality.entry[e] === 0) code.constantPair(0, 0).set(local(e) + 1);
  }
  for (let e = firstVarying[i]; e < diagonal[i]; e++) {
    multiplier(row, e);
    const k = column[e];
    for (let u = diagonal[k] + 1; u < start[k + 1]; u++) {
      takeProduct(row, e, u, local(entryAt.get(column[u]) ?? e));
    }
  }
  finishRow(row);
}

/** entry ← entry / pivot of its row of U, kept in registers and stored. */
function multiplier({ code, elimination, places, reality, local }: Row, e: number): void {
  const k = elimination.column[e];
  const [re, im] = [local(e), local(e) + 1];
  const inverse = places.inverse + k * NUMBER;
  const address = places.lu + e * NUMBER;
  const complexPivot = reality.pivot[k] === 0;
  code.loadPair(inverse).set(INVERSE_RE);
  if (complexPivot) code.loadPair(inverse + IMAGINARY).set(INVERSE_IM);
  code.get(re).get(INVERSE_RE).mulPair();
  if (complexPivot) code.get(im).get(INVERSE_IM).mulPair().subPair();
  code.set(L_RE).base().get(L_RE).storePair(address);
  if (reality.entry[e] === 1) return;
  code.get(im).get(INVERSE_RE).mulPair();
  if (complexPivot) code.get(re).get(INVERSE_IM).mulPair().addPair();
  code
    .set(L_IM)
    .base()
    .get(L_IM)
    .storePair(address + IMAGINARY);
}

/** target ← target − L·U(u), both lanes. */
function takeProduct({ code, places, reality }: Row, e: number, u: number, to: number): void {
  const from = places.lu + u * NUMBER;
  const [realL, realU] = [reality.entry[e] === 1, reality.entry[u] === 1];
  code.get(to).get(L_RE).loadPair(from).mulPair().subPair();
  if (!(realL || realU)) {
    code
      .get(L_IM)
      .loadPair(from + IMAGINARY)
      .mulPair()
      .addPair();
  }
  code.set(to);
  if (realL && realU) return;
  code.get(to + 1);
  if (!realU) {
    code
      .get(L_RE)
      .loadPair(from + IMAGINARY)
      .mulPair()
      .subPair();
  }
  if (!realL) code.get(L_IM).loadPair(from).mulPair().subPair();
  code.set(to + 1);
}

/** Stores U and 1/pivot, and remembers how small the pivot is beside its row. */
function finishRow({ code, elimination, places, reality, i, local }: Row): void {
  const { start, diagonal } = elimination;
  for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
    const address = places.lu + e * NUMBER;
    code.base().get(local(e)).storePair(address);
    if (reality.entry[e] === 1) continue;
    code.base().get(local(e) + 1);
    code.storePair(address + IMAGINARY);
  }
  const real = reality.pivot[i] === 1;
  invert(code, local(diagonal[i]), real);
  const inverse = places.inverse + i * NUMBER;
  code.base().get(INVERSE_RE).storePair(inverse);
  if (!real)
    code
      .base()
      .get(INVERSE_IM)
      .storePair(inverse + IMAGINARY);
  // a pivot of zero gives infinity or no number, which the larger of two keeps
  code.get(WORST).get(INVERSE_RE).absPair();
  if (!real) code.get(INVERSE_IM).absPair().addPair();
  code.loadTwice(places.rowG + i * BYTES);
  code.get(OMEGA).loadTwice(places.rowC + i * BYTES);
  code.mulPair().addPair().mulPair().maxPair().set(WORST);
}

/** 1/p = (re − j·im)/(re² + im²) of both lanes. */
function invert(code: MachineCode, pivot: number, real: boolean): void {
  if (real) {
    code.constantPair(1, 1).get(pivot).divPair().set(INVERSE_RE);
    return;
  }
  const [re, im] = [pivot, pivot + 1];
  code.constantPair(1, 1).get(re).get(re).mulPair().get(im).get(im).mulPair().addPair().divPair().set(L_RE);
  code.get(re).get(L_RE).mulPair().set(INVERSE_RE);
  code.constantPair(0, 0).get(im).get(L_RE).mulPair().subPair().set(INVERSE_IM);
}
