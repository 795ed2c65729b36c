import { type Elimination, record } from "../kernel/elimination.ts";
import { FixedStage } from "../kernel/fixed-stage.ts";
import { order } from "../kernel/order.ts";
import type { Pattern } from "../kernel/pattern.ts";

/** A pivot smaller than this share of its row's largest entry calls for a new order. */
const LEAST_PIVOT = 1e-9;

/**
 * Replay of an elimination on a complex matrix of which part stays while the rest changes from step to step.
 * Unlike the kernel's other replays it keeps its order as long as that is numerically bearable: Newton's
 * iteration puts right what a middling pivot spoils, a new order costs as much as hundreds of steps.
 */
export class StepLu {
  readonly #elimination: Elimination;
  readonly #stage: FixedStage;
  /** Entry of each varying slot. */
  readonly #slots: Int32Array;
  readonly #entries: Int32Array;
  readonly #re: Float64Array;
  readonly #im: Float64Array;
  readonly #inverseRe: Float64Array;
  readonly #inverseIm: Float64Array;
  /** For every multiple of a row taken from another, in order: the entries that it changes. */
  readonly #targets: Int32Array;
  readonly #y: Float64Array;
  readonly #z: Float64Array;

  private constructor(elimination: Elimination, varying: Uint8Array) {
    this.#elimination = elimination;
    this.#stage = new FixedStage(elimination);
    const { size, column, entryOfSlot } = elimination;
    this.#slots = Int32Array.from([...varying.keys()].filter((slot) => varying[slot] === 1));
    this.#entries = this.#slots.map((slot) => entryOfSlot[slot]!);
    this.#re = new Float64Array(column.length);
    this.#im = new Float64Array(column.length);
    this.#inverseRe = new Float64Array(size);
    this.#inverseIm = new Float64Array(size);
    this.#targets = targetsOf(elimination);
    this.#y = new Float64Array(size);
    this.#z = new Float64Array(size);
  }

  /** An elimination in an order made for these values; undefined if nothing determines some unknown. */
  static make(
    pattern: Pattern,
    varying: Uint8Array,
    real: Float64Array,
    imaginary: Float64Array,
    columnScale: Float64Array,
  ): StepLu | undefined {
    const ordering = order(pattern, { real, imaginary, columnScale, varying });
    if ("singularColumns" in ordering) return undefined;
    return new StepLu(record(pattern, ordering, varying), varying);
  }

  /** Loads what stays, by slot, 0 where a slot varies. Returns false if the order does not suit it. */
  fix(constant: Float64Array): boolean {
    return this.#stage.load(constant);
  }

  /** Factors with these values in the varying slots. Returns false if a pivot turned out too small. */
  factor(real: Float64Array, imaginary: Float64Array): boolean {
    const { start, fixed } = this.#elimination;
    const [re, im] = [this.#re, this.#im];
    const first = start[fixed]!;
    const { entries } = this.#stage;
    for (let e = first; e < re.length; e++) {
      re[e] = entries[e]!;
      im[e] = 0;
    }
    for (let k = 0; k < this.#slots.length; k++) {
      const [e, s] = [this.#entries[k]!, this.#slots[k]!];
      re[e]! += real[s]!;
      im[e]! += imaginary[s]!;
    }
    return this.#eliminate();
  }

  #eliminate(): boolean {
    const { size, fixed, start, firstVarying, diagonal, column } = this.#elimination;
    const [re, im, pr, pi, targets] = [this.#re, this.#im, this.#inverseRe, this.#inverseIm, this.#targets];
    let t = 0;
    for (let i = fixed; i < size; i++) {
      const d = diagonal[i]!;
      for (let e = firstVarying[i]!; e < d; e++) {
        const k = column[e]!;
        const lr = re[e]! * pr[k]! - im[e]! * pi[k]!;
        const li = re[e]! * pi[k]! + im[e]! * pr[k]!;
        re[e] = lr;
        im[e] = li;
        for (let u = diagonal[k]! + 1; u < start[k + 1]!; u++) {
          const target = targets[t++]!;
          re[target]! -= lr * re[u]! - li * im[u]!;
          im[target]! -= lr * im[u]! + li * re[u]!;
        }
      }
      let largest = 0;
      for (let u = d + 1; u < start[i + 1]!; u++) {
        const size = Math.abs(re[u]!) + Math.abs(im[u]!);
        if (size > largest) largest = size;
      }
      const norm = re[d]! * re[d]! + im[d]! * im[d]!;
      if (!(norm > (LEAST_PIVOT * largest) ** 2)) return false;
      pr[i] = re[d]! / norm;
      pi[i] = -im[d]! / norm;
    }
    return true;
  }

  /** Solves for a right-hand side by row; the solution overwrites it, by unknown. */
  solve(bRe: Float64Array, bIm: Float64Array): void {
    const { size, fixed, start, firstVarying, diagonal, column, pivotColumn } = this.#elimination;
    const [re, im, pr, pi, y, z] = [this.#re, this.#im, this.#inverseRe, this.#inverseIm, this.#y, this.#z];
    this.#stage.forward(bRe, y);
    this.#stage.forward(bIm, z);
    for (let i = fixed; i < size; i++) {
      let [a, b] = [y[i]!, z[i]!];
      for (let e = firstVarying[i]!; e < diagonal[i]!; e++) {
        const k = column[e]!;
        a -= re[e]! * y[k]! - im[e]! * z[k]!;
        b -= re[e]! * z[k]! + im[e]! * y[k]!;
      }
      y[i] = a;
      z[i] = b;
    }
    for (let i = size - 1; i >= fixed; i--) {
      let [a, b] = [y[i]!, z[i]!];
      for (let e = diagonal[i]! + 1; e < start[i + 1]!; e++) {
        const k = column[e]!;
        a -= re[e]! * y[k]! - im[e]! * z[k]!;
        b -= re[e]! * z[k]! + im[e]! * y[k]!;
      }
      y[i] = a * pr[i]! - b * pi[i]!;
      z[i] = a * pi[i]! + b * pr[i]!;
    }
    this.#stage.backward(y);
    this.#stage.backward(z);
    for (let i = 0; i < size; i++) {
      bRe[pivotColumn[i]!] = y[i]!;
      bIm[pivotColumn[i]!] = z[i]!;
    }
  }
}

function targetsOf({ size, fixed, start, firstVarying, diagonal, column }: Elimination): Int32Array {
  const targets: number[] = [];
  const entryAt = new Int32Array(size);
  for (let i = fixed; i < size; i++) {
    for (let e = start[i]!; e < start[i + 1]!; e++) entryAt[column[e]!] = e;
    for (let e = firstVarying[i]!; e < diagonal[i]!; e++) {
      const k = column[e]!;
      for (let u = diagonal[k]! + 1; u < start[k + 1]!; u++) targets.push(entryAt[column[u]!]!);
    }
  }
  return Int32Array.from(targets);
}
