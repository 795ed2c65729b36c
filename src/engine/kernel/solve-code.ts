import type { Elimination } from "./elimination.ts";
import { type CodedFunction, MachineCode } from "./machine-code.ts";
import { IMAGINARY, NUMBER, type Places } from "./places.ts";
import type { Reality } from "./reality.ts";

const RE = 0;
const IM = 1;
const SPARE = 2;

/** Code that takes the right-hand sides at `x` through L and U. */
export function solveCode(elimination: Elimination, places: Places, reality: Reality): CodedFunction {
  const { size, fixed, start, firstVarying, diagonal, column } = elimination;
  const code = new MachineCode();
  const x = (k: number) => places.x + k * NUMBER;
  const begin = (i: number) =>
    code
      .loadPair(x(i))
      .set(RE)
      .loadPair(x(i) + IMAGINARY)
      .set(IM);
  const reduce = (from: number, to: number) => {
    for (let e = from; e < to; e++) {
      const l = places.lu + e * NUMBER;
      const k = x(column[e]);
      const real = reality.entry[e] === 1;
      code.get(RE).loadPair(l).loadPair(k).mulPair().subPair();
      if (!real) {
        code
          .loadPair(l + IMAGINARY)
          .loadPair(k + IMAGINARY)
          .mulPair()
          .addPair();
      }
      code.set(RE);
      code
        .get(IM)
        .loadPair(l)
        .loadPair(k + IMAGINARY)
        .mulPair()
        .subPair();
      if (!real)
        code
          .loadPair(l + IMAGINARY)
          .loadPair(k)
          .mulPair()
          .subPair();
      code.set(IM);
    }
  };
  const end = (i: number) => {
    code.base().get(RE).storePair(x(i));
    code
      .base()
      .get(IM)
      .storePair(x(i) + IMAGINARY);
  };
  for (let i = fixed; i < size; i++) {
    if (firstVarying[i] === diagonal[i]) continue;
    begin(i);
    reduce(firstVarying[i], diagonal[i]);
    end(i);
  }
  for (let i = size - 1; i >= fixed; i--) {
    begin(i);
    reduce(diagonal[i] + 1, start[i + 1]);
    divide(code, places.inverse + i * NUMBER, reality.pivot[i] === 1);
    end(i);
  }
  return { name: "solve", takesDoubles: 0, givesDouble: false, pairs: SPARE + 1, code };
}

/** RE + j·IM ← (RE + j·IM)·inverse. */
function divide(code: MachineCode, inverse: number, real: boolean): void {
  if (real) {
    code.get(RE).loadPair(inverse).mulPair().set(RE);
    code.get(IM).loadPair(inverse).mulPair().set(IM);
    return;
  }
  code.get(RE).loadPair(inverse).mulPair();
  code
    .get(IM)
    .loadPair(inverse + IMAGINARY)
    .mulPair()
    .subPair()
    .set(SPARE);
  code
    .get(RE)
    .loadPair(inverse + IMAGINARY)
    .mulPair();
  code.get(IM).loadPair(inverse).mulPair().addPair().set(IM);
  code.get(SPARE).set(RE);
}
