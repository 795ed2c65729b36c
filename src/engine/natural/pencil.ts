import { ComplexLu } from "../kernel/complex-lu.ts";
import { record } from "../kernel/elimination.ts";
import { order } from "../kernel/order.ts";
import type { Pattern } from "../kernel/pattern.ts";
import type { Phasor } from "../small-signal.ts";
import { type ComplexVector, vectorOf } from "./vector.ts";

/** G + s·C: real values by slot of a pattern, and the weight of each unknown's column. */
export interface Pencil {
  readonly pattern: Pattern;
  readonly g: Float64Array;
  readonly c: Float64Array;
  readonly columnScale: Float64Array;
}

/**
 * Solves (G + s·C)·x = b at any complex s. The order of elimination is kept from one s to the next while its
 * pivots hold. A new one is made for the positive real number of the same size, where a matrix that is all but
 * singular at s (which is what eigenvalues are about) is sound.
 */
export class PencilSolver {
  readonly #pencil: Pencil;
  readonly #varying: Uint8Array;
  readonly #real: Float64Array;
  readonly #residual: ComplexVector;
  readonly #correction: ComplexVector;
  #lu: ComplexLu | undefined;
  #s: Phasor = { re: 0, im: 0 };

  constructor(pencil: Pencil) {
    this.#pencil = pencil;
    this.#varying = Uint8Array.from(pencil.c, (value) => (value === 0 ? 0 : 1));
    this.#real = new Float64Array(pencil.g.length);
    this.#residual = vectorOf(pencil.pattern.size);
    this.#correction = vectorOf(pencil.pattern.size);
  }

  /** Factors at s. Returns false if no order can be found. */
  tune(s: Phasor): boolean {
    const { c } = this.#pencil;
    this.#s = s;
    this.#load(s.re);
    if (this.#lu?.fix(this.#real, c) && this.#lu.factor(s.im)) return true;
    if (!this.#reorder(Math.hypot(s.re, s.im))) return false;
    this.#load(s.re);
    this.#lu!.fix(this.#real, c);
    this.#lu!.factor(s.im);
    return true;
  }

  #load(re: number): void {
    const { g, c } = this.#pencil;
    for (let k = 0; k < g.length; k++) this.#real[k] = g[k]! + re * c[k]!;
  }

  #reorder(re: number): boolean {
    const { pattern, columnScale } = this.#pencil;
    this.#load(re);
    const ordering = order(pattern, { real: this.#real, columnScale, varying: this.#varying });
    if ("singularColumns" in ordering) return false;
    this.#lu = new ComplexLu(record(pattern, ordering, this.#varying), "never");
    return true;
  }

  /**
   * x ← (G + s·C)⁻¹·b at the s tuned to, with what the rounding left of the residual put right; `transposed`,
   * with rows and columns exchanged.
   */
  solve(b: ComplexVector, x: ComplexVector, transposed = false): void {
    this.#once(b, x, transposed);
    this.#leftOver(b, x, transposed);
    this.#once(this.#residual, this.#correction, transposed);
    for (let k = 0; k < x.re.length; k++) {
      x.re[k]! += this.#correction.re[k]!;
      x.im[k]! += this.#correction.im[k]!;
    }
  }

  #once(b: ComplexVector, x: ComplexVector, transposed: boolean): void {
    const lu = this.#lu!;
    if (transposed) {
      lu.solveTransposed(b.re, b.im, x.re, x.im);
      return;
    }
    lu.drive(b.re, b.im);
    lu.solve();
    for (let k = 0; k < b.re.length; k++) {
      x.re[k] = lu.re(k);
      x.im[k] = lu.im(k);
    }
  }

  /** residual ← b − (G + s·C)·x. */
  #leftOver(b: ComplexVector, x: ComplexVector, transposed: boolean): void {
    const { pattern, g, c } = this.#pencil;
    const [to, from] = transposed ? [pattern.column, pattern.row] : [pattern.row, pattern.column];
    const { re, im } = this.#residual;
    re.set(b.re);
    im.set(b.im);
    for (let slot = 0; slot < g.length; slot++) {
      const row = to[slot]!;
      const column = from[slot]!;
      const real = g[slot]! + this.#s.re * c[slot]!;
      const imaginary = this.#s.im * c[slot]!;
      re[row]! -= real * x.re[column]! - imaginary * x.im[column]!;
      im[row]! -= real * x.im[column]! + imaginary * x.re[column]!;
    }
  }
}
