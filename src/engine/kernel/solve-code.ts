import type { Elimination } from "./elimination.ts";
import { type CodedFunction, MachineCode } from "./machine-code.ts";
import type { Part } from "./part.ts";
import { IMAGINARY, NUMBER, type Places } from "./places.ts";
import type { Reality } from "./reality.ts";

const RE = 0;
const IM = 1;
const SPARE = 2;

/** Code that takes the right-hand sides at `b` through L and U to the part of the solution wanted, at `x`. */
export function solveCode(
  elimination: Elimination,
  places: Places,
  reality: Reality,
  part: Part,
): CodedFunction {
  const writer = new SolveWriter(elimination, places, reality, part);
  return { name: "solve", takesDoubles: 0, givesDouble: false, pairs: SPARE + 1, code: writer.write() };
}

class SolveWriter {
  readonly #code = new MachineCode();
  readonly #elimination: Elimination;
  readonly #places: Places;
  readonly #reality: Reality;
  readonly #part: Part;
  /** Where the right-hand side of each row lies after L: where it came from, if L left it alone. */
  readonly #between: Float64Array;

  constructor(elimination: Elimination, places: Places, reality: Reality, part: Part) {
    this.#elimination = elimination;
    this.#places = places;
    this.#reality = reality;
    this.#part = part;
    this.#between = Float64Array.from({ length: elimination.size }, (_, i) => places.b + i * NUMBER);
  }

  write(): MachineCode {
    const { size, fixed } = this.#elimination;
    const { reached, needed } = this.#part;
    for (let i = fixed; i < size; i++) if (reached[i] === 1) this.#forward(i);
    for (let i = size - 1; i >= fixed; i--) if (needed[i] === 1) this.#backward(i);
    return this.#code;
  }

  #forward(i: number): void {
    const { firstVarying, diagonal, column } = this.#elimination;
    const { inputs, reached } = this.#part;
    let touched = false;
    for (let e = firstVarying[i]; e < diagonal[i]; e++) {
      if (reached[column[e]] === 0) continue;
      if (!touched) this.#begin(inputs[i] === 1 ? this.#between[i] : undefined);
      touched = true;
      this.#reduce(e, this.#between[column[e]]);
    }
    if (!touched) return;
    this.#between[i] = this.#places.x + i * NUMBER;
    this.#end(i);
  }

  #backward(i: number): void {
    const { start, diagonal, column } = this.#elimination;
    this.#begin(this.#part.reached[i] === 1 ? this.#between[i] : undefined);
    for (let e = diagonal[i] + 1; e < start[i + 1]; e++) this.#reduce(e, this.#places.x + column[e] * NUMBER);
    divide(this.#code, this.#places.inverse + i * NUMBER, this.#reality.pivot[i] === 1);
    this.#end(i);
  }

  /** Starts a row with the number at an address, or with 0. */
  #begin(address: number | undefined): void {
    const code = this.#code;
    if (address === undefined) code.constantPair(0, 0).set(RE).constantPair(0, 0).set(IM);
    else
      code
        .loadPair(address)
        .set(RE)
        .loadPair(address + IMAGINARY)
        .set(IM);
  }

  /** Takes entry e times the number at address k away. */
  #reduce(e: number, k: number): void {
    const code = this.#code;
    const l = this.#places.lu + e * NUMBER;
    const real = this.#reality.entry[e] === 1;
    code.get(RE).loadPair(l).loadPair(k).mulPair().subPair();
    if (!real)
      code
        .loadPair(l + IMAGINARY)
        .loadPair(k + IMAGINARY)
        .mulPair()
        .addPair();
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

  #end(i: number): void {
    const x = this.#places.x + i * NUMBER;
    this.#code.base().get(RE).storePair(x);
    this.#code
      .base()
      .get(IM)
      .storePair(x + IMAGINARY);
  }
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
