import type { ComplexReplay } from "./complex-replay.ts";
import type { Elimination } from "./elimination.ts";
import { LEAST_PIVOT } from "./fixed-stage.ts";
import { assemble, MachineCode } from "./machine-code.ts";

/**
 * The varying stage as straight-line machine code: every address is a constant, a row is worked on in
 * registers, and real and imaginary part go through one instruction together. Undefined where the
 * platform forbids making code or lacks vector instructions.
 *
 * Products with i are put off: beside each sum Σ re(l)·u a second one, Σ im(l)·u, is kept, and
 * (−im, re) of the second is added when the entry is next needed.
 */
export function compileReplay(elimination: Elimination): ComplexReplay | undefined {
  const places = placesOf(elimination);
  const pages = Math.ceil(places.end / PAGE);
  const bytes = assemble([factorCode(elimination, places), solveCode(elimination, places)], pages);
  try {
    const memory = new WebAssembly.Memory({ initial: pages });
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { host: { memory } });
    return replayOf(elimination, places, memory.buffer, exports);
  } catch {
    return undefined;
  }
}

const BYTES = 8;
const PAIR = 16;
const PAGE = 65_536;

/** Addresses in bytes. */
interface Places {
  readonly g: number;
  readonly c: number;
  readonly lu: number;
  readonly inverse: number;
  readonly x: number;
  readonly end: number;
}

function placesOf({ column, size }: Elimination): Places {
  const doubles = Math.ceil(column.length / 2) * PAIR;
  const g = 0;
  const c = g + doubles;
  const lu = c + doubles;
  const inverse = lu + column.length * PAIR;
  const x = inverse + size * PAIR;
  return { g, c, lu, inverse, x, end: x + size * PAIR };
}

function replayOf(
  { column, size }: Elimination,
  places: Places,
  buffer: ArrayBuffer,
  exports: Record<string, unknown>,
): ComplexReplay {
  const factor = exports.factor as (omega: number) => number;
  const doubles = (from: number, count: number) => new Float64Array(buffer, from, count);
  return {
    compiled: true,
    g: doubles(places.g, column.length),
    c: doubles(places.c, column.length),
    x: doubles(places.x, 2 * size),
    lu: doubles(places.lu, 2 * column.length),
    inverse: doubles(places.inverse, 2 * size),
    factor: (omega) => factor(omega) < 1 / LEAST_PIVOT,
    solve: exports.solve as () => void,
  };
}

const OMEGA = 0;
/** Largest ratio so far of a row's entries of U to its pivot. */
const WORST = 1;
const L_RE = 2;
const L_IM = 3;
const LARGEST = 4;
const FIRST_ENTRY = 5;

/** (−im, re) of the pair on the stack: i times it. */
const timesI = (code: MachineCode, local: number) =>
  code.get(local).get(local).choose(1, 0).constantPair(-1, 1).mulPair();

function factorCode(elimination: Elimination, places: Places) {
  const { size, fixed, start, firstVarying } = elimination;
  const code = new MachineCode();
  let longest = 0;
  for (let i = fixed; i < size; i++) {
    longest = Math.max(longest, start[i + 1] - firstVarying[i]);
    factorRow(code, elimination, places, i);
  }
  code.get(WORST);
  const pairs = FIRST_ENTRY - 2 + 2 * longest;
  return { name: "factor", takesDouble: true, givesDouble: true, doubles: 1, pairs, code };
}

/** Row i in registers: loaded, reduced by each row of U above it, stored. */
function factorRow(code: MachineCode, elimination: Elimination, places: Places, i: number): void {
  const { start, firstVarying, diagonal, column, isVarying } = elimination;
  const first = firstVarying[i];
  const direct = (e: number) => FIRST_ENTRY + 2 * (e - first);
  const put = (e: number) => direct(e) + 1;
  for (let e = first; e < start[i + 1]; e++) {
    code.loadReal(places.g + e * BYTES);
    if (isVarying[e] === 1)
      code
        .get(OMEGA)
        .loadDouble(places.c + e * BYTES)
        .mul()
        .replaceHalf(1);
    code.set(direct(e));
  }
  const changed = new Set<number>();
  const settled = (e: number) => {
    if (changed.has(e)) settle(code, direct(e), put(e));
  };
  const entryAt = new Map<number, number>();
  for (let e = first; e < start[i + 1]; e++) entryAt.set(column[e], e);
  for (let e = first; e < diagonal[i]; e++) {
    const k = column[e];
    settled(e);
    multiplier(code, direct(e), places.inverse + k * PAIR);
    code
      .base()
      .get(direct(e))
      .storePair(places.lu + e * PAIR);
    for (let u = diagonal[k] + 1; u < start[k + 1]; u++) {
      const to = entryAt.get(column[u]) ?? 0;
      const address = places.lu + u * PAIR;
      code.get(direct(to)).loadPair(address).get(L_RE).mulPair().subPair().set(direct(to));
      if (changed.has(to)) code.get(put(to));
      else code.constantPair(0, 0);
      code.loadPair(address).get(L_IM).mulPair().subPair().set(put(to));
      changed.add(to);
    }
  }
  for (let e = diagonal[i]; e < start[i + 1]; e++) settled(e);
  finishRow(code, elimination, places, i, direct);
}

/** Divides an entry by the pivot of its row of U, and spreads re and im for the products. */
function multiplier(code: MachineCode, direct: number, inverse: number): void {
  // (a + jb)·(c + jd) = a·(c, d) + b·(−d, c)
  code.loadPair(inverse).set(L_RE);
  code.get(direct).get(direct).choose(0, 0).get(L_RE).mulPair();
  code.get(direct).get(direct).choose(1, 1);
  timesI(code, L_RE).mulPair().addPair().set(direct);
  code.get(direct).get(direct).choose(0, 0).set(L_RE);
  code.get(direct).get(direct).choose(1, 1).set(L_IM);
}

/** Adds i times the sum put off. */
const settle = (code: MachineCode, direct: number, put: number) => {
  code.get(direct);
  timesI(code, put).addPair().set(direct);
};

function finishRow(
  code: MachineCode,
  { start, diagonal }: Elimination,
  places: Places,
  i: number,
  direct: (e: number) => number,
): void {
  code.constantPair(0, 0).set(LARGEST);
  for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
    code
      .base()
      .get(direct(e))
      .storePair(places.lu + e * PAIR);
    code.get(LARGEST).get(direct(e)).absPair().maxPair().set(LARGEST);
  }
  const pivot = direct(diagonal[i]);
  // worst ← max(worst, largest / (|re| + |im|)); a pivot of zero gives infinity or no number
  code.get(WORST).get(LARGEST).half(0).get(LARGEST).half(1).max();
  code.get(pivot).absPair().half(0).get(pivot).absPair().half(1).add().div().max().set(WORST);
  // 1/p = (re, −im) / (re² + im²)
  code.base().get(pivot).constantPair(1, -1).mulPair();
  code.get(pivot).get(pivot).mulPair().set(LARGEST);
  code.get(LARGEST).half(0).get(LARGEST).half(1).add().both().divPair();
  code.storePair(places.inverse + i * PAIR);
}

const DIRECT = 1;
const PUT_OFF = 2;

function solveCode({ size, fixed, start, firstVarying, diagonal, column }: Elimination, places: Places) {
  const code = new MachineCode();
  const x = (k: number) => places.x + k * PAIR;
  const reduce = (from: number, to: number) => {
    for (let e = from; e < to; e++) {
      const l = places.lu + e * PAIR;
      code.get(DIRECT).loadTwice(l).loadPair(x(column[e])).mulPair().subPair().set(DIRECT);
      code
        .get(PUT_OFF)
        .loadTwice(l + BYTES)
        .loadPair(x(column[e]))
        .mulPair()
        .subPair()
        .set(PUT_OFF);
    }
    settle(code, DIRECT, PUT_OFF);
  };
  const begin = (i: number) => code.loadPair(x(i)).set(DIRECT).constantPair(0, 0).set(PUT_OFF);
  for (let i = fixed; i < size; i++) {
    if (firstVarying[i] === diagonal[i]) continue;
    begin(i);
    reduce(firstVarying[i], diagonal[i]);
    code.base().get(DIRECT).storePair(x(i));
  }
  for (let i = size - 1; i >= fixed; i--) {
    begin(i);
    reduce(diagonal[i] + 1, start[i + 1]);
    const inverse = places.inverse + i * PAIR;
    code
      .base()
      .loadTwice(inverse)
      .get(DIRECT)
      .mulPair()
      .loadTwice(inverse + BYTES);
    timesI(code, DIRECT).mulPair().addPair().storePair(x(i));
  }
  return { name: "solve", takesDouble: false, givesDouble: false, doubles: 1, pairs: 2, code };
}
