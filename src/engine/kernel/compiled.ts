import { type ComplexReplay, STRIDE } from "./complex-replay.ts";
import type { Elimination } from "./elimination.ts";
import { factorCode } from "./factor-code.ts";
import { LEAST_PIVOT } from "./fixed-stage.ts";
import { assemble } from "./machine-code.ts";
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
  const functions = [factorCode(elimination, places, reality), solveCode(elimination, places, reality)];
  const bytes = assemble(functions, pages);
  try {
    const memory = new WebAssembly.Memory({ initial: pages });
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(bytes), { host: { memory } });
    return replayOf(elimination, places, memory.buffer, exports);
  } catch {
    return undefined;
  }
}

function replayOf(
  { column, size }: Elimination,
  places: Places,
  buffer: ArrayBuffer,
  exports: Record<string, unknown>,
): ComplexReplay {
  const factor = exports.factor as (omega: number, second: number) => number;
  const doubles = (from: number, count: number) => new Float64Array(buffer, from, count);
  return {
    compiled: true,
    g: doubles(places.g, column.length),
    c: doubles(places.c, column.length),
    x: doubles(places.x, STRIDE * size),
    rowG: doubles(places.rowG, size),
    rowC: doubles(places.rowC, size),
    lu: doubles(places.lu, STRIDE * column.length),
    inverse: doubles(places.inverse, STRIDE * size),
    factor: (omega, second) => factor(omega, second) < 1 / LEAST_PIVOT,
    solve: exports.solve as () => void,
  };
}
