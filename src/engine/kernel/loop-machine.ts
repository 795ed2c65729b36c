import type { Elimination } from "./elimination.ts";
import { LoopMachineCode } from "./loop-machine-code.ts";
import { assemble } from "./machine-code.ts";

const PAGE = 65_536;
const MOST_PAGES = 65_536;
const DOUBLE = 8;
const WHOLE = 4;
/** A complex number: both parts side by side in one register. */
const NUMBER = 16;

/** What the loops work on, in one memory. */
export interface LoopArrays {
  readonly g: Float64Array;
  readonly c: Float64Array;
  readonly leastG: Float64Array;
  readonly leastC: Float64Array;
  /** Entries and 1/pivot, real and imaginary part side by side. */
  readonly lu: Float64Array;
  readonly inverse: Float64Array;
}

export interface LoopMachine extends LoopArrays {
  /** Factors g + jω·c as `ComplexReplay.factor` does, for one ω. */
  factor(omega: number): boolean;
}

/** Addresses in bytes. */
interface LoopPlaces {
  readonly start: number;
  readonly first: number;
  readonly diagonal: number;
  /** Columns times `NUMBER`. */
  readonly column: number;
  readonly g: number;
  readonly c: number;
  readonly leastG: number;
  readonly leastC: number;
  readonly lu: number;
  readonly inverse: number;
  /** The row being worked on, by column. */
  readonly row: number;
  readonly end: number;
}

function placesFor(size: number, entries: number): LoopPlaces {
  let end = 0;
  const take = (count: number, bytes: number) => {
    const from = end;
    end = Math.ceil((from + count * bytes) / NUMBER) * NUMBER;
    return from;
  };
  const places = {
    start: take(size + 1, WHOLE),
    first: take(size, WHOLE),
    diagonal: take(size, WHOLE),
    column: take(entries, WHOLE),
    g: take(entries, DOUBLE),
    c: take(entries, DOUBLE),
    leastG: take(size, DOUBLE),
    leastC: take(size, DOUBLE),
    lu: take(entries, NUMBER),
    inverse: take(size, NUMBER),
    row: take(size, NUMBER),
  };
  return { ...places, end };
}

/**
 * The loops over the index lists as machine code, for eliminations too large for straight-line code: one
 * frequency at a time, each complex number in one register. Undefined where the platform forbids making code
 * or has not the memory.
 */
export function loopMachine(elimination: Elimination): LoopMachine | undefined {
  const { size, fixed, start, firstVarying, diagonal, column } = elimination;
  const places = placesFor(size, column.length);
  const pages = Math.ceil(places.end / PAGE);
  if (pages > MOST_PAGES) return undefined;
  try {
    const memory = new WebAssembly.Memory({ initial: pages });
    const { buffer } = memory;
    const code = new LoopWriter(places, fixed, size).write();
    const counts = { doubles: 0, pairs: PAIRS, integers: INTEGERS };
    const bytes = assemble([{ name: "factor", takesDoubles: 1, givesDouble: true, ...counts, code }], pages);
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { host: { memory } });
    const factor = exports.factor as (omega: number) => number;
    new Int32Array(buffer, places.start, size + 1).set(start);
    new Int32Array(buffer, places.first, size).set(firstVarying);
    new Int32Array(buffer, places.diagonal, size).set(diagonal);
    const columns = new Int32Array(buffer, places.column, column.length);
    for (let e = 0; e < column.length; e++) columns[e] = NUMBER * column[e];
    const doubles = (from: number, count: number) => new Float64Array(buffer, from, count);
    return {
      g: doubles(places.g, column.length),
      c: doubles(places.c, column.length),
      leastG: doubles(places.leastG, size),
      leastC: doubles(places.leastC, size),
      lu: doubles(places.lu, 2 * column.length),
      inverse: doubles(places.inverse, 2 * size),
      factor: (omega) => factor(omega) === 1,
    };
  } catch {
    return undefined;
  }
}

/** Locals: ω comes in; then pairs, then integers. */
const OMEGA = 0;
const L_RE = 1;
/** −Im, Im of the multiple. */
const L_IM = 2;
const NOW = 3;
const OTHER = 4;
const PAIRS = 4;
const I = 5;
const ENTRY = 6;
const END = 7;
const K = 8;
const COLUMN = 9;
const LAST = 10;
const NUMBERS = 11;
const TO = 12;
const SOUND = 13;
const INTEGERS = 9;

class LoopWriter {
  readonly #code = new LoopMachineCode();
  readonly #places: LoopPlaces;
  readonly #fixed: number;
  readonly #size: number;

  constructor(places: LoopPlaces, fixed: number, size: number) {
    this.#places = places;
    this.#fixed = fixed;
    this.#size = size;
  }

  write(): LoopMachineCode {
    const code = this.#code;
    code.integer(1).set(SOUND).whole(this.#fixed).set(I);
    code.while(
      () => code.get(I).whole(this.#size).less(),
      () => {
        this.#load();
        this.#reduce();
        this.#keep();
        this.#invert();
        this.#check();
        code.get(I).plusWhole(1).set(I);
      },
    );
    return code.get(SOUND).toDouble();
  }

  /** Pushes an element of a list of integers, of row I or the one after it. */
  #ofRow(list: number, later = 0): LoopMachineCode {
    return this.#code
      .get(I)
      .shiftLeft(2)
      .wholeAt(list + WHOLE * later);
  }

  /** Runs `body` for ENTRY from where it stands up to END; TO is the entry's place in the row. */
  #entries(body: () => void): void {
    const code = this.#code;
    code.while(
      () => code.get(ENTRY).get(END).less(),
      () => {
        code.get(ENTRY).shiftLeft(2).wholeAt(this.#places.column).set(TO);
        body();
        code.get(ENTRY).plusWhole(1).set(ENTRY);
      },
    );
  }

  /** The row ← g + jω·c. */
  #load(): void {
    const { start, first, g, c, row } = this.#places;
    const code = this.#code;
    this.#ofRow(first).set(ENTRY);
    this.#ofRow(start, 1).set(END);
    this.#entries(() => {
      code.get(TO).get(ENTRY).shiftLeft(3).doubleAt(g).putDoubleAt(row);
      code.get(TO).get(OMEGA).get(ENTRY).shiftLeft(3).doubleAt(c).mul();
      code.putDoubleAt(row + DOUBLE);
    });
  }

  /** Takes the multiples of the rows above from the row. */
  #reduce(): void {
    const { first, diagonal, row, inverse, lu, column, start } = this.#places;
    const code = this.#code;
    this.#ofRow(first).set(ENTRY);
    this.#ofRow(diagonal).set(END);
    this.#entries(() => {
      code.get(TO).pairAt(row).set(NOW).get(TO).pairAt(inverse).set(OTHER);
      this.#multiple();
      code.get(ENTRY).shiftLeft(4).get(NOW).putPairAt(lu);
      code.get(NOW).get(NOW).firstTwice().set(L_RE);
      code.get(NOW).get(NOW).secondTwice().constantPair(-1, 1).mulPair().set(L_IM);
      // the row of U from behind its pivot to its end, by addresses
      code.get(TO).shiftRight(2).set(K);
      code.get(K).wholeAt(diagonal).plusWhole(1).set(COLUMN);
      code.get(COLUMN).shiftLeft(4).set(NUMBERS);
      code.get(COLUMN).shiftLeft(2).set(COLUMN);
      code
        .get(K)
        .wholeAt(start + WHOLE)
        .shiftLeft(2)
        .set(LAST);
      code.while(
        () => code.get(COLUMN).get(LAST).less(),
        () => {
          code.get(NUMBERS).pairAt(lu).set(NOW);
          code.get(COLUMN).wholeAt(column).set(TO);
          code.get(TO).get(TO).pairAt(row).get(L_RE).get(NOW).mulPair().subPair();
          code.get(L_IM).get(NOW).get(NOW).swapped().mulPair().subPair().putPairAt(row);
          code.get(COLUMN).plusWhole(WHOLE).set(COLUMN);
          code.get(NUMBERS).plusWhole(NUMBER).set(NUMBERS);
        },
      );
    });
  }

  /** NOW ← NOW·OTHER as complex numbers. */
  #multiple(): void {
    const code = this.#code;
    code.get(NOW).get(NOW).firstTwice().get(OTHER).mulPair();
    code.get(NOW).get(NOW).secondTwice().constantPair(-1, 1).mulPair();
    code.get(OTHER).get(OTHER).swapped().mulPair().addPair().set(NOW);
  }

  /** Keeps what is left of the row as its row of U. */
  #keep(): void {
    const { start, diagonal, row, lu } = this.#places;
    const code = this.#code;
    this.#ofRow(diagonal).set(ENTRY);
    this.#ofRow(start, 1).set(END);
    this.#entries(() => {
      code.get(ENTRY).shiftLeft(4).get(TO).pairAt(row).putPairAt(lu);
    });
  }

  /** 1/pivot = (re, −im)/(re² + im²). */
  #invert(): void {
    const { row, inverse } = this.#places;
    const code = this.#code;
    code.get(I).shiftLeft(4).set(TO).get(TO).pairAt(row).set(NOW);
    code.get(NOW).get(NOW).mulPair().set(OTHER);
    code.get(TO).get(NOW).constantPair(1, -1).mulPair();
    code.get(OTHER).get(OTHER).get(OTHER).swapped().addPair().divPair().putPairAt(inverse);
  }

  /** Whether the pivot is large enough; what is no number is not. */
  #check(): void {
    const { leastG, leastC, row } = this.#places;
    const code = this.#code;
    code.get(TO).doubleAt(row).abs();
    code
      .get(TO)
      .doubleAt(row + DOUBLE)
      .abs()
      .add();
    code.get(I).shiftLeft(3).doubleAt(leastG);
    code.get(OMEGA).get(I).shiftLeft(3).doubleAt(leastC).mul().add();
    code.greater().get(SOUND).and().set(SOUND);
  }
}
