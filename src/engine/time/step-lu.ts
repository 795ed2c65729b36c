import { type Elimination, record } from "../kernel/elimination.ts";
import { FixedStage } from "../kernel/fixed-stage.ts";
import { order } from "../kernel/order.ts";
import type { Pattern } from "../kernel/pattern.ts";

/** A pivot smaller than this share of its row's largest entry calls for a new order. */
const LEAST_PIVOT = 1e-9;

/**
 * Replay of an elimination on a matrix of 2 × 2 blocks (a b, c d), one for the middle and one for the end of
 * a step, of which part stays while the rest changes from step to step. Unlike the kernel's other replays it
 * keeps its order as long as that is numerically bearable: Newton's iteration puts right what a middling
 * pivot spoils, a new order costs as much as hundreds of steps.
 */
export class StepLu {
  readonly #elimination: Elimination;
  readonly #stage: FixedStage;
  /** Entry of each varying slot. */
  readonly #slots: Int32Array;
  readonly #entries: Int32Array;
  /** The blocks by entry, and the inverse pivots by place. */
  readonly #blocks: Float64Array;
  readonly #inverse: Float64Array;
  /** For every multiple of a row taken from another, in order: where the blocks lie that it changes. */
  readonly #targets: Int32Array;
  readonly #y: Float64Array;
  readonly #z: Float64Array;

  private constructor(elimination: Elimination, varying: Uint8Array) {
    this.#elimination = elimination;
    this.#stage = new FixedStage(elimination);
    const { size, column, entryOfSlot } = elimination;
    this.#slots = Int32Array.from([...varying.keys()].filter((slot) => varying[slot] === 1));
    this.#entries = this.#slots.map((slot) => entryOfSlot[slot]!);
    this.#blocks = new Float64Array(4 * column.length);
    this.#inverse = new Float64Array(4 * size);
    this.#targets = targetsOf(elimination);
    this.#y = new Float64Array(size);
    this.#z = new Float64Array(size);
  }

  /** An elimination in an order made for these values, by slot; undefined if nothing determines some unknown. */
  static make(
    pattern: Pattern,
    varying: Uint8Array,
    values: Float64Array,
    columnScale: Float64Array,
  ): StepLu | undefined {
    const ordering = order(pattern, { real: values, columnScale, varying });
    if ("singularColumns" in ordering) return undefined;
    return new StepLu(record(pattern, ordering, varying), varying);
  }

  /** Loads what stays, by slot, 0 where a slot varies. Returns false if the order does not suit it. */
  fix(constant: Float64Array): boolean {
    return this.#stage.load(constant);
  }

  /**
   * Factors with these blocks, four numbers a slot, in the varying slots; what stays is the same for both.
   * Returns false if a pivot turned out too small.
   */
  factor(values: Float64Array): boolean {
    const { start, fixed } = this.#elimination;
    const blocks = this.#blocks;
    const first = start[fixed]!;
    const { entries } = this.#stage;
    blocks.fill(0, 4 * first);
    for (let e = first; e < entries.length; e++) {
      blocks[4 * e] = entries[e]!;
      blocks[4 * e + 3] = entries[e]!;
    }
    for (let k = 0; k < this.#slots.length; k++) {
      const e = 4 * this.#entries[k]!;
      const s = 4 * this.#slots[k]!;
      blocks[e]! += values[s]!;
      blocks[e + 1]! += values[s + 1]!;
      blocks[e + 2]! += values[s + 2]!;
      blocks[e + 3]! += values[s + 3]!;
    }
    return this.#eliminate();
  }

  #eliminate(): boolean {
    const { size, fixed, start, firstVarying, diagonal, column } = this.#elimination;
    const [m, p, targets] = [this.#blocks, this.#inverse, this.#targets];
    let t = 0;
    for (let i = fixed; i < size; i++) {
      const d = diagonal[i]!;
      for (let e = firstVarying[i]!; e < d; e++) {
        const k = column[e]!;
        const at = 4 * e;
        const pk = 4 * k;
        const a = m[at]! * p[pk]! + m[at + 1]! * p[pk + 2]!;
        const b = m[at]! * p[pk + 1]! + m[at + 1]! * p[pk + 3]!;
        const c = m[at + 2]! * p[pk]! + m[at + 3]! * p[pk + 2]!;
        const f = m[at + 2]! * p[pk + 1]! + m[at + 3]! * p[pk + 3]!;
        m[at] = a;
        m[at + 1] = b;
        m[at + 2] = c;
        m[at + 3] = f;
        for (let u = 4 * (diagonal[k]! + 1); u < 4 * start[k + 1]!; u += 4) {
          const target = targets[t++]!;
          const u0 = m[u]!;
          const u1 = m[u + 1]!;
          const u2 = m[u + 2]!;
          const u3 = m[u + 3]!;
          m[target]! -= a * u0 + b * u2;
          m[target + 1]! -= a * u1 + b * u3;
          m[target + 2]! -= c * u0 + f * u2;
          m[target + 3]! -= c * u1 + f * u3;
        }
      }
      if (!this.#invert(i, largestOf(m, 4 * (d + 1), 4 * start[i + 1]!))) return false;
    }
    return true;
  }

  /** Inverts a pivot block; false if it is too small beside `largest`. */
  #invert(i: number, largest: number): boolean {
    const [m, p] = [this.#blocks, this.#inverse];
    const at = 4 * this.#elimination.diagonal[i]!;
    const a = m[at]!;
    const b = m[at + 1]!;
    const c = m[at + 2]!;
    const d = m[at + 3]!;
    const determinant = a * d - b * c;
    if (!(Math.abs(determinant) > (LEAST_PIVOT * largest) ** 2)) return false;
    p[4 * i] = d / determinant;
    p[4 * i + 1] = -b / determinant;
    p[4 * i + 2] = -c / determinant;
    p[4 * i + 3] = a / determinant;
    return true;
  }

  /** Solves for right-hand sides by row (middle and end); the solutions overwrite them, by unknown. */
  solve(bMiddle: Float64Array, bEnd: Float64Array): void {
    const { size, fixed, start, firstVarying, diagonal, column, pivotColumn } = this.#elimination;
    const [m, p, y, z] = [this.#blocks, this.#inverse, this.#y, this.#z];
    this.#stage.forward(bMiddle, y);
    this.#stage.forward(bEnd, z);
    for (let i = fixed; i < size; i++) {
      let a = y[i]!;
      let b = z[i]!;
      for (let e = firstVarying[i]!; e < diagonal[i]!; e++) {
        const k = column[e]!;
        a -= m[4 * e]! * y[k]! + m[4 * e + 1]! * z[k]!;
        b -= m[4 * e + 2]! * y[k]! + m[4 * e + 3]! * z[k]!;
      }
      y[i] = a;
      z[i] = b;
    }
    for (let i = size - 1; i >= fixed; i--) {
      let a = y[i]!;
      let b = z[i]!;
      for (let e = diagonal[i]! + 1; e < start[i + 1]!; e++) {
        const k = column[e]!;
        a -= m[4 * e]! * y[k]! + m[4 * e + 1]! * z[k]!;
        b -= m[4 * e + 2]! * y[k]! + m[4 * e + 3]! * z[k]!;
      }
      y[i] = a * p[4 * i]! + b * p[4 * i + 1]!;
      z[i] = a * p[4 * i + 2]! + b * p[4 * i + 3]!;
    }
    this.#stage.backward(y);
    this.#stage.backward(z);
    for (let i = 0; i < size; i++) {
      bMiddle[pivotColumn[i]!] = y[i]!;
      bEnd[pivotColumn[i]!] = z[i]!;
    }
  }
}

function largestOf(values: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (let e = from; e < to; e++) {
    const size = Math.abs(values[e]!);
    if (size > largest) largest = size;
  }
  return largest;
}

function targetsOf({ size, fixed, start, firstVarying, diagonal, column }: Elimination): Int32Array {
  const targets: number[] = [];
  const entryAt = new Int32Array(size);
  for (let i = fixed; i < size; i++) {
    for (let e = start[i]!; e < start[i + 1]!; e++) entryAt[column[e]!] = e;
    for (let e = firstVarying[i]!; e < diagonal[i]!; e++) {
      const k = column[e]!;
      for (let u = diagonal[k]! + 1; u < start[k + 1]!; u++) targets.push(4 * entryAt[column[u]!]!);
    }
  }
  return Int32Array.from(targets);
}
