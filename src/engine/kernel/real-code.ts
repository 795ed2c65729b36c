import type { Elimination } from "./elimination.ts";
import { assemble, type CodedFunction, MachineCode } from "./machine-code.ts";
import { type Product, updatesOf } from "./updates.ts";

/** A real elimination as machine code. */
export interface RealMachine {
  /** Entries as the fixed stage left them, varying values added; then L and U. */
  readonly lu: Float64Array;
  /** 1/pivot by place; those of fixed rows come from the fixed stage. */
  readonly inverse: Float64Array;
  /** Right-hand side by row, and solution by unknown. */
  readonly b: Float64Array;
  readonly x: Float64Array;
  /** Works on the varying rows of `lu`; false if a pivot is too small for the order. */
  factor(): boolean;
  /** Takes `b` through all of L and U. */
  solve(): void;
}

const BYTES = 8;
const PAGE = 65_536;

/** Straight-line code for this elimination; undefined where the platform forbids making code. */
export function compileReal(elimination: Elimination): RealMachine | undefined {
  const { size, column } = elimination;
  const inverse = column.length * BYTES;
  const b = inverse + size * BYTES;
  const x = b + size * BYTES;
  const places = { inverse, b, x, y: x + size * BYTES };
  const pages = Math.ceil((places.y + size * BYTES) / PAGE);
  const bytes = assemble([factorCode(elimination, places), solveCode(elimination, places)], pages);
  try {
    const memory = new WebAssembly.Memory({ initial: pages });
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { host: { memory } });
    const { factor, solve } = exports as { readonly factor: () => number; readonly solve: () => void };
    const doubles = (from: number, count: number) => new Float64Array(memory.buffer, from, count);
    return {
      lu: doubles(0, column.length),
      inverse: doubles(inverse, size),
      b: doubles(b, size),
      x: doubles(x, size),
      factor: () => factor() === 1,
      solve,
    };
  } catch {
    return undefined;
  }
}

/** Addresses in bytes; entries lie at 0. */
interface RealPlaces {
  readonly inverse: number;
  readonly b: number;
  readonly x: number;
  /** Right-hand side after L, by place. */
  readonly y: number;
}

/** Locals of `factor`. */
const ENTRY = 0;
const PIVOT = 1;
/** Sum of the sizes of a row's entries of U. */
const SUM = 2;
const FIRST_MULTIPLE = 3;

function factorCode(elimination: Elimination, { inverse }: RealPlaces): CodedFunction {
  const { size, fixed, start, firstVarying, diagonal, column, leastPivot } = elimination;
  const code = new MachineCode();
  // whether all pivots were large enough stays on the stack
  code.integer(1);
  let most = 0;
  for (let i = fixed; i < size; i++) {
    const first = firstVarying[i];
    most = Math.max(most, diagonal[i] - first);
    const updates = updatesOf(elimination, i);
    const local = (l: number) => FIRST_MULTIPLE + l - first;
    code.double(0).set(SUM);
    for (let e = first; e < start[i + 1]; e++) {
      const products = updates.get(column[e]) ?? [];
      reduced(code, e, products, local);
      if (e < diagonal[i]) {
        code.loadDouble(inverse + column[e] * BYTES).mul();
        code
          .set(local(e))
          .base()
          .get(local(e))
          .storeDouble(e * BYTES);
      } else if (e === diagonal[i]) code.set(PIVOT);
      else {
        code.set(ENTRY).get(SUM).get(ENTRY).abs().add().set(SUM);
        if (products.length > 0)
          code
            .base()
            .get(ENTRY)
            .storeDouble(e * BYTES);
      }
    }
    const at = inverse + i * BYTES;
    code.base().double(1).get(PIVOT).div().storeDouble(at);
    code.get(PIVOT).abs().double(leastPivot).get(SUM).mul().double(Number.MIN_VALUE).add();
    code.greater().and();
  }
  code.toDouble();
  const doubles = FIRST_MULTIPLE + most;
  return { name: "factor", takesDoubles: 0, givesDouble: true, doubles, pairs: 0, code };
}

/** Pushes an entry with its products taken away. */
function reduced(
  code: MachineCode,
  e: number,
  products: readonly Product[],
  local: (l: number) => number,
): void {
  code.loadDouble(e * BYTES);
  for (const [l, u] of products)
    code
      .get(local(l))
      .loadDouble(u * BYTES)
      .mul()
      .sub();
}

function solveCode(elimination: Elimination, { inverse, b, x, y }: RealPlaces): CodedFunction {
  const { size, start, diagonal, column, pivotRow, pivotColumn } = elimination;
  const code = new MachineCode();
  const between = Float64Array.from(pivotRow, (row) => b + row * BYTES);
  for (let i = 0; i < size; i++) {
    if (start[i] === diagonal[i]) continue;
    code.base().loadDouble(between[i]);
    for (let e = start[i]; e < diagonal[i]; e++) {
      code
        .loadDouble(e * BYTES)
        .loadDouble(between[column[e]])
        .mul()
        .sub();
    }
    between[i] = y + i * BYTES;
    code.storeDouble(between[i]);
  }
  for (let i = size - 1; i >= 0; i--) {
    code.base().loadDouble(between[i]);
    for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
      code
        .loadDouble(e * BYTES)
        .loadDouble(x + pivotColumn[column[e]] * BYTES)
        .mul()
        .sub();
    }
    code
      .loadDouble(inverse + i * BYTES)
      .mul()
      .storeDouble(x + pivotColumn[i] * BYTES);
  }
  return { name: "solve", takesDoubles: 0, givesDouble: false, doubles: 0, pairs: 0, code };
}
