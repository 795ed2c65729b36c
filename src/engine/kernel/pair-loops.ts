import type { Elimination } from "./elimination.ts";
import { loadByLoops, movingByLoops, slopesByLoops } from "./load-code.ts";
import type { PairMemory } from "./pair-memory.ts";
import { CONDUCTANCE, type PairKinds } from "./pair-places.ts";
import { type PointsWork, pointsLoops } from "./pair-points-loops.ts";
import type { Pattern } from "./pattern.ts";

/** A pivot smaller than this share of its row's largest entry calls for a new order. */
export const LEAST_BLOCK_PIVOT = 1e-9;

/** What is computed at both points at once; see `pair-code.ts` and `block-code.ts`. */
export interface PairWork extends PointsWork {
  /** f = source − G·x and q = C·x of the linear parts. */
  linear(): void;
  /** The formula's residual by row. */
  residual(): void;
  /** Factors the matrix; returns whether every pivot was large enough for the order. */
  factor(): boolean;
  /** dx ← matrix⁻¹·residual. */
  solve(): void;
  /** x ← x − dx; returns the largest change, weighted. */
  correct(): number;
  /**
   * How far the unknowns of each device have moved since it was looked at, and how far off its tangents that makes
   * it, weighted; returns the most that one is off.
   */
  moved(): number;
  /** Adds the devices to f and q, by their tangents. */
  load(): void;
  /** Slopes of all: what is linear, and the devices. */
  slopes(): void;
}

/** The loops over the index lists: before machine code is made, and where it may not be. */
export function pairLoops(
  pattern: Pattern,
  kinds: PairKinds,
  memory: PairMemory,
  elimination?: Elimination,
): PairWork {
  const blocks = elimination === undefined ? undefined : new BlockLoops(elimination, kinds, memory);
  return {
    ...pointsLoops(kinds, memory),
    linear: () => linear(pattern, memory),
    residual: () => residual(pattern, kinds, memory),
    factor: () => blocks?.factor() ?? false,
    solve: () => blocks?.solve(),
    correct: () => correct(pattern, memory),
    moved: movingByLoops(kinds.devices, memory),
    load: () => loadByLoops(kinds.devices, memory),
    slopes: () => slopesByLoops(kinds.devices, memory),
  };
}

function linear({ size, row, column }: Pattern, { x, f, q, source, linearG, linearC }: PairMemory): void {
  for (let k = 0; k < 2 * size; k++) {
    f[k] = source[k];
    q[k] = 0;
  }
  for (let s = 0; s < row.length; s++) {
    const [to, from] = [2 * row[s], 2 * column[s]];
    f[to] -= linearG[s] * x[from];
    f[to + 1] -= linearG[s] * x[from + 1];
    q[to] += linearC[s] * x[from];
    q[to + 1] += linearC[s] * x[from + 1];
  }
}

function residual({ size }: Pattern, { hasCharge }: PairKinds, memory: PairMemory): void {
  const { f, q, startF, startQ, coefficients: m, startWeight, residual: r } = memory;
  for (let k = 0; k < size; k++) {
    if (hasCharge[k] === 0) {
      r[2 * k] = -f[2 * k];
      r[2 * k + 1] = -f[2 * k + 1];
      continue;
    }
    const middle = q[2 * k] - startQ[k];
    const end = q[2 * k + 1] - startQ[k];
    r[2 * k] = m[0] * middle + m[2] * end - f[2 * k] + startWeight[0] * startF[k];
    r[2 * k + 1] = m[1] * middle + m[3] * end - f[2 * k + 1] + startWeight[1] * startF[k];
  }
}

function correct({ size }: Pattern, { x, dx, weight }: PairMemory): number {
  let largest = 0;
  for (let k = 0; k < 2 * size; k++) {
    x[k] -= dx[k];
    // what is no number stays none
    largest = Math.max(largest, Math.abs(dx[k]) * weight[k >> 1]);
  }
  return largest;
}

class BlockLoops {
  readonly #elimination: Elimination;
  readonly #kinds: PairKinds;
  readonly #memory: PairMemory;
  /** The blocks (a b, c d) by entry, and the inverse pivots by place. */
  readonly #blocks: Float64Array;
  readonly #inverse: Float64Array;
  /** For every multiple of a row taken from another, in order: where the blocks lie that it changes. */
  readonly #targets: Int32Array;
  readonly #y: Float64Array;

  constructor(elimination: Elimination, kinds: PairKinds, memory: PairMemory) {
    const { size, column } = elimination;
    this.#elimination = elimination;
    this.#kinds = kinds;
    this.#memory = memory;
    this.#blocks = new Float64Array(4 * column.length);
    this.#inverse = new Float64Array(4 * size);
    this.#targets = targetsOf(elimination);
    this.#y = new Float64Array(2 * size);
  }

  #load(): void {
    const { g, c, coefficients: m } = this.#memory;
    const { entryOfSlot } = this.#elimination;
    const { reactive } = this.#kinds;
    const blocks = this.#blocks;
    blocks.fill(0);
    for (let s = 0; s < entryOfSlot.length; s++) {
      const at = 4 * entryOfSlot[s];
      blocks[at] = g[CONDUCTANCE * s];
      blocks[at + 3] = g[CONDUCTANCE * s + 2];
      if (reactive[s] === 0) continue;
      blocks[at] += m[0] * c[2 * s];
      blocks[at + 1] = m[2] * c[2 * s + 1];
      blocks[at + 2] = m[1] * c[2 * s];
      blocks[at + 3] += m[3] * c[2 * s + 1];
    }
  }

  factor(): boolean {
    const { size, start, diagonal, column } = this.#elimination;
    const [m, p, targets] = [this.#blocks, this.#inverse, this.#targets];
    this.#load();
    let t = 0;
    let sound = true;
    for (let i = 0; i < size; i++) {
      const d = diagonal[i];
      for (let e = start[i]; e < d; e++) {
        const k = column[e];
        const at = 4 * e;
        const pk = 4 * k;
        const l0 = m[at] * p[pk] + m[at + 1] * p[pk + 2];
        const l1 = m[at] * p[pk + 1] + m[at + 1] * p[pk + 3];
        const l2 = m[at + 2] * p[pk] + m[at + 3] * p[pk + 2];
        const l3 = m[at + 2] * p[pk + 1] + m[at + 3] * p[pk + 3];
        m[at] = l0;
        m[at + 1] = l1;
        m[at + 2] = l2;
        m[at + 3] = l3;
        for (let u = 4 * (diagonal[k] + 1); u < 4 * start[k + 1]; u += 4) {
          const target = targets[t++];
          m[target] -= l0 * m[u] + l1 * m[u + 2];
          m[target + 1] -= l0 * m[u + 1] + l1 * m[u + 3];
          m[target + 2] -= l2 * m[u] + l3 * m[u + 2];
          m[target + 3] -= l2 * m[u + 1] + l3 * m[u + 3];
        }
      }
      if (!this.#invert(i, largestOf(m, 4 * (d + 1), 4 * start[i + 1]))) sound = false;
    }
    return sound;
  }

  /** Inverts a pivot block; false if it is too small beside `largest`. */
  #invert(i: number, largest: number): boolean {
    const [m, p] = [this.#blocks, this.#inverse];
    const at = 4 * this.#elimination.diagonal[i];
    const determinant = m[at] * m[at + 3] - m[at + 1] * m[at + 2];
    p[4 * i] = m[at + 3] / determinant;
    p[4 * i + 1] = -m[at + 1] / determinant;
    p[4 * i + 2] = -m[at + 2] / determinant;
    p[4 * i + 3] = m[at] / determinant;
    return Math.abs(determinant) > (LEAST_BLOCK_PIVOT * largest) ** 2;
  }

  solve(): void {
    const { size, start, diagonal, pivotRow, pivotColumn } = this.#elimination;
    const [p, y] = [this.#inverse, this.#y];
    const { residual: r, dx } = this.#memory;
    for (let i = 0; i < size; i++) {
      y[2 * i] = r[2 * pivotRow[i]];
      y[2 * i + 1] = r[2 * pivotRow[i] + 1];
      this.#reduce(i, start[i], diagonal[i]);
    }
    for (let i = size - 1; i >= 0; i--) {
      this.#reduce(i, diagonal[i] + 1, start[i + 1]);
      const a = y[2 * i];
      const b = y[2 * i + 1];
      y[2 * i] = a * p[4 * i] + b * p[4 * i + 1];
      y[2 * i + 1] = a * p[4 * i + 2] + b * p[4 * i + 3];
      dx[2 * pivotColumn[i]] = y[2 * i];
      dx[2 * pivotColumn[i] + 1] = y[2 * i + 1];
    }
  }

  /** y_i ← y_i − Σ entry·y over entries `from` … `to` − 1 of row i. */
  #reduce(i: number, from: number, to: number): void {
    const { column } = this.#elimination;
    const [m, y] = [this.#blocks, this.#y];
    let a = y[2 * i];
    let b = y[2 * i + 1];
    for (let e = from; e < to; e++) {
      const k = 2 * column[e];
      a -= m[4 * e] * y[k] + m[4 * e + 1] * y[k + 1];
      b -= m[4 * e + 2] * y[k] + m[4 * e + 3] * y[k + 1];
    }
    y[2 * i] = a;
    y[2 * i + 1] = b;
  }
}

function largestOf(values: Float64Array, from: number, to: number): number {
  let largest = 0;
  for (let e = from; e < to; e++) largest = Math.max(largest, Math.abs(values[e]));
  return largest;
}

function targetsOf({ size, start, diagonal, column }: Elimination): Int32Array {
  const targets: number[] = [];
  const entryAt = new Int32Array(size);
  for (let i = 0; i < size; i++) {
    for (let e = start[i]; e < start[i + 1]; e++) entryAt[column[e]] = e;
    for (let e = start[i]; e < diagonal[i]; e++) {
      const k = column[e];
      for (let u = diagonal[k] + 1; u < start[k + 1]; u++) targets.push(4 * entryAt[column[u]]);
    }
  }
  return Int32Array.from(targets);
}
