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

const A_RE = 0;
const A_IM = 1;
const X_RE = 2;
const X_IM = 3;
/** A complex number of two lanes: re, re, im, im. */
const NUMBER = 2 * PAIR;

/** The same in vector instructions, two numbers side by side as the kernel has them, without a loop's own cost. */
function complexVectors(): () => void {
  const code = new MachineCode();
  for (let pass = 0; pass < PASSES; pass++) {
    const a = pass % 2 === 0 ? 0.5 : -0.5;
    code
      .constantPair(a, a)
      .set(A_RE)
      .constantPair(a / 2, a / 2)
      .set(A_IM);
    for (let k = 0; k < LENGTH; k++) {
      const x = k * NUMBER;
      const y = (LENGTH + k) * NUMBER;
      code
        .loadPair(x)
        .set(X_RE)
        .loadPair(x + PAIR)
        .set(X_IM);
      code.base().loadPair(y).get(A_RE).get(X_RE).mulPair().subPair();
      code.get(A_IM).get(X_IM).mulPair().addPair().storePair(y);
      code
        .base()
        .loadPair(y + PAIR)
        .get(A_RE)
        .get(X_IM)
        .mulPair()
        .subPair();
      code
        .get(A_IM)
        .get(X_RE)
        .mulPair()
        .subPair()
        .storePair(y + PAIR);
    }
  }
  const run = { name: "run", takesDoubles: 0, givesDouble: false, pairs: 4, code };
  const memory = new WebAssembly.Memory({ initial: 1 });
  new Float64Array(memory.buffer).set(filled(8 * LENGTH));
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
    inProcess("complex, vector instructions", 2 * units, complexVectors()),
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
