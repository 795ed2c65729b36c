import { type ComplexReplay, STRIDE } from "./complex-replay.ts";
import type { Elimination } from "./elimination.ts";
import { factorCode } from "./factor-code.ts";
import { assemble, type CodedFunction } from "./machine-code.ts";
import { type Part, wholeOf } from "./part.ts";
import { type Places, placesOf } from "./places.ts";
import { Reality } from "./reality.ts";
import { solveCode } from "./solve-code.ts";

const PAGE = 65_536;

/**
 * The varying stage as straight-line machine code: every address is a constant, a row is worked on in
 * registers, and both frequencies go through each instruction side by side. Undefined where the platform
 * forbids making code or lacks vector instructions.
 */
export function compileReplay(elimination: Elimination): ComplexReplay | undefined {
  const places = placesOf(elimination);
  const pages = Math.ceil(places.end / PAGE);
  const reality = new Reality(elimination);
  const solver = (part: Part) => solveCode(elimination, places, reality, part);
  try {
    const memory = new WebAssembly.Memory({ initial: pages });
    const made = (functions: readonly CodedFunction[]) => {
      const module = new WebAssembly.Module(assemble(functions, pages));
      return new WebAssembly.Instance(module, { host: { memory } }).exports;
    };
    const { factor, solve } = made([
      factorCode(elimination, places, reality),
      solver(wholeOf(elimination)),
    ]) as unknown as Exports;
    return {
      compiled: true,
      pairs: true,
      ...arraysOf(elimination, places, memory.buffer),
      factor: (omega, second) => factor(omega, second) === 1,
      solve,
      solverOf: (part) => (made([solver(part)]) as unknown as Exports).solve,
    };
  } catch {
    return undefined;
  }
}

interface Exports {
  readonly factor: (omega: number, second: number) => number;
  readonly solve: () => void;
}

function arraysOf({ column, size }: Elimination, places: Places, buffer: ArrayBuffer) {
  const doubles = (from: number, count: number) => new Float64Array(buffer, from, count);
  return {
    g: doubles(places.g, column.length),
    c: doubles(places.c, column.length),
    b: doubles(places.b, STRIDE * size),
    x: doubles(places.x, STRIDE * size),
    leastG: doubles(places.leastG, size),
    leastC: doubles(places.leastC, size),
    lu: doubles(places.lu, STRIDE * column.length),
    inverse: doubles(places.inverse, STRIDE * size),
  };
}
