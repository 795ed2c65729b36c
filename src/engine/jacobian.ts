import { type Elimination, record } from "./kernel/elimination.ts";
import { order } from "./kernel/order.ts";
import type { Pattern } from "./kernel/pattern.ts";
import { quickElimination } from "./kernel/quick-elimination.ts";
import { RealLu } from "./kernel/real-lu.ts";

const MOST_KEPT = 8;
/** Orders that are worth machine code: where many follow each other, none lasts long enough. */
const MOST_COMPILED = 3;

/**
 * A real matrix in two parts: a constant one, by slot, and a varying one, added at a few slots. The order
 * of elimination is kept while it suits the values; the fixed stage is redone only when the constant
 * part has changed.
 */
export class Jacobian {
  readonly constant: Float64Array;
  /** Slots that vary, and the values added there. */
  readonly varyingSlots: Int32Array;
  readonly varying: Float64Array;
  /** Times the matrix was put in a new order. */
  orderings = 0;
  readonly #pattern: Pattern;
  /** Slots row by row, where each row of them begins, and their columns. */
  readonly #slots: Int32Array;
  readonly #start: Int32Array;
  readonly #columns: Int32Array;
  readonly #columnScale: Float64Array;
  readonly #isVarying: Uint8Array;
  #lu: RealLu | undefined;
  #first: RealLu | undefined;
  /** Orders that suited other values, latest first: to and fro between two sets of values costs nothing. */
  #kept: readonly RealLu[] = [];
  #stale = true;

  constructor(pattern: Pattern, varyingSlots: Int32Array, columnScale: Float64Array) {
    this.#pattern = pattern;
    [this.#slots, this.#start] = slotsByRow(pattern);
    this.#columns = this.#slots.map((slot) => pattern.column[slot]!);
    this.#columnScale = columnScale;
    this.varyingSlots = varyingSlots;
    this.varying = new Float64Array(varyingSlots.length);
    this.constant = new Float64Array(pattern.row.length);
    this.#isVarying = new Uint8Array(pattern.row.length);
    for (const slot of varyingSlots) this.#isVarying[slot] = 1;
  }

  /** Goes back to the first order there was, which suits most values where single ones are far out. */
  startOver(): void {
    this.#lu = this.#first;
    this.#stale = true;
  }

  /** Says that the constant part has been written to. */
  touch(): void {
    this.#stale = true;
  }

  /** b ← b + (constant part)·x. */
  addConstantTimes(x: Float64Array, b: Float64Array): void {
    const { size } = this.#pattern;
    const { constant } = this;
    const slots = this.#slots;
    const start = this.#start;
    const columns = this.#columns;
    for (let r = 0, k = 0; r < size; r++) {
      const end = start[r + 1]!;
      let sum = b[r]!;
      for (; k < end; k++) sum += constant[slots[k]!]! * x[columns[k]!]!;
      b[r] = sum;
    }
  }

  /** x ← matrix⁻¹·b. Returns the unknowns that nothing determines, if there are any. */
  solve(b: Float64Array, x: Float64Array): readonly number[] | undefined {
    if (!this.#factored() && !this.#factoredAsBefore()) {
      const undetermined = this.#reorder();
      if (undetermined !== undefined) return undetermined;
    }
    this.#lu!.solve(b, x);
    return undefined;
  }

  /** z ← matrix⁻ᵀ·w with the matrix last solved: what an addition to each row does to the unknowns weighed by w. */
  adjoint(w: Float64Array, z: Float64Array): void {
    this.#lu?.solveTransposed(w, z);
  }

  #factored(): boolean {
    const lu = this.#lu;
    if (lu === undefined) return false;
    if (this.#stale && !lu.fix(this.constant)) return false;
    this.#stale = false;
    return lu.factor(this.varyingSlots, this.varying);
  }

  #factoredAsBefore(): boolean {
    const suits = (lu: RealLu) => lu.fix(this.constant) && lu.factor(this.varyingSlots, this.varying);
    const found = this.#kept.find((lu) => lu !== this.#lu && suits(lu));
    if (found === undefined) return false;
    this.#lu = found;
    this.#stale = false;
    return true;
  }

  #reorder(): readonly number[] | undefined {
    const real = this.constant.slice();
    this.varyingSlots.forEach((slot, k) => {
      real[slot]! += this.varying[k]!;
    });
    const values = { real, columnScale: this.#columnScale, varying: this.#isVarying };
    const quick = quickElimination(this.#pattern, values);
    if (quick !== undefined && this.#adopt(quick, true)) return undefined;
    const ordering = order(this.#pattern, values);
    if ("singularColumns" in ordering) return ordering.singularColumns;
    this.#adopt(record(this.#pattern, ordering), false);
    return undefined;
  }

  /** Goes over to this elimination and factors by it; with `ifSound`, only if its pivots are large enough. */
  #adopt(elimination: Elimination, ifSound: boolean): boolean {
    const lu = new RealLu(elimination, this.orderings < MOST_COMPILED);
    const fixed = lu.fix(this.constant);
    const factored = lu.factor(this.varyingSlots, this.varying);
    if (ifSound && !(fixed && factored)) return false;
    this.orderings++;
    this.#lu = lu;
    this.#first ??= lu;
    this.#kept = [lu, ...this.#kept].slice(0, MOST_KEPT);
    this.#stale = false;
    return true;
  }

  /** The recorded elimination, once there is one. */
  get elimination(): Elimination | undefined {
    return this.#lu?.elimination;
  }
}

/** Slots of a pattern in order of their rows, and where each row of them begins. */
function slotsByRow({ size, row }: Pattern): [slots: Int32Array, start: Int32Array] {
  const start = new Int32Array(size + 1);
  for (const r of row) start[r + 1]!++;
  for (let r = 0; r < size; r++) start[r + 1]! += start[r]!;
  const next = start.slice();
  const slots = new Int32Array(row.length);
  row.forEach((r, slot) => {
    slots[next[r]!++] = slot;
  });
  return [slots, start];
}
