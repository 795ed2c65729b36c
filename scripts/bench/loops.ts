import { assemble, MachineCode } from "../../src/engine/kernel/machine-code.ts";
import type { Findings } from "./results.ts";
import { inProcess, interleave, named, seeded } from "./sampling.ts";

/** Seconds of one multiply-add y ← y − a·x in the tightest loop we have; vectors that stay in the cache. */
export interface MultiplyAdd {
  readonly real: number;
  readonly complex: number;
}

const LENGTH = 256;
const PASSES = 8;
const PAIR = 16;

const filled = (length: number) => Float64Array.from({ length }, seeded(1));

function realPass(a: number, x: Float64Array, y: Float64Array): void {
  for (let k = 0; k < LENGTH; k++) y[k]! -= a * x[k]!;
}

function realLoop(): () => void {
  const [x, y] = [filled(LENGTH), filled(LENGTH)];
  return () => {
    for (let pass = 0; pass < PASSES; pass++) realPass(pass % 2 === 0 ? 0.5 : -0.5, x, y);
  };
}

type Parts = readonly [re: Float64Array, im: Float64Array];

function complexPass(ar: number, ai: number, [xr, xi]: Parts, [yr, yi]: Parts): void {
  for (let k = 0; k < LENGTH; k++) {
    const re = xr[k]!;
    const im = xi[k]!;
    yr[k]! -= ar * re - ai * im;
    yi[k]! -= ar * im + ai * re;
  }
}

function complexLoop(): () => void {
  const x: Parts = [filled(LENGTH), filled(LENGTH)];
  const y: Parts = [filled(LENGTH), filled(LENGTH)];
  return () => {
    for (let pass = 0; pass < PASSES; pass++) {
      const a = pass % 2 === 0 ? 0.5 : -0.5;
      complexPass(a, a / 2, x, y);
    }
  };
}

const RE = 0;
const IM = 1;
const X = 2;

/** The same in vector instructions, a pair (re, im) at a time, without a loop's own cost. */
function complexVectors(): () => void {
  const code = new MachineCode();
  for (let pass = 0; pass < PASSES; pass++) {
    const a = pass % 2 === 0 ? 0.5 : -0.5;
    code
      .constantPair(a, a)
      .set(RE)
      .constantPair(-a / 2, a / 2)
      .set(IM);
    for (let k = 0; k < LENGTH; k++) {
      const y = (LENGTH + k) * PAIR;
      code
        .base()
        .loadPair(y)
        .loadPair(k * PAIR)
        .set(X);
      code.get(RE).get(X).mulPair().subPair();
      code.get(IM).get(X).get(X).choose(1, 0).mulPair().subPair().storePair(y);
    }
  }
  const run = { name: "run", takesDouble: false, givesDouble: false, doubles: 0, pairs: 3, code };
  const memory = new WebAssembly.Memory({ initial: 1 });
  new Float64Array(memory.buffer).set(filled(4 * LENGTH));
  const module = new WebAssembly.Module(assemble([run], 1));
  const { exports } = new WebAssembly.Instance(module, { host: { memory } });
  return exports.run as () => void;
}

/** Times the loops. The complex one is the faster of a plain loop and vector instructions. */
export async function loops(): Promise<Findings & { readonly multiplyAdd: MultiplyAdd }> {
  const units = LENGTH * PASSES;
  const timings = await interleave([
    inProcess("real, loop", units, realLoop()),
    inProcess("complex, loop", units, complexLoop()),
    inProcess("complex, vector instructions", units, complexVectors()),
  ]);
  const min = (name: string) => named(timings, name)!.min;
  return {
    multiplyAdd: {
      real: min("real, loop"),
      complex: Math.min(min("complex, loop"), min("complex, vector instructions")),
    },
    lines: timings.map(({ name, min, median }) => ({
      item: "loops",
      what: name,
      per: "multiply-add",
      min,
      median,
    })),
    demands: [],
  };
}
