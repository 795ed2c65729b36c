import { ComplexLu } from "../kernel/complex-lu.ts";
import { record } from "../kernel/elimination.ts";
import { order } from "../kernel/order.ts";
import type { Pattern } from "../kernel/pattern.ts";
import type { Phasor } from "../small-signal.ts";
import type { ComplexVector } from "./vector.ts";

/** G + s·C: real values by slot of a pattern, and the weight of each unknown's column. */
export interface Pencil {
  readonly pattern: Pattern;
  readonly g: Float64Array;
  readonly c: Float64Array;
  readonly columnScale: Float64Array;
}

/** The same with rows and columns exchanged. */
export const transposed = ({ pattern, ...rest }: Pencil): Pencil => ({
  ...rest,
  pattern: { size: pattern.size, row: pattern.column, column: pattern.row },
});

/**
 * Solves (G + s·C)·x = b at any complex s. The order of elimination is kept from one s to the next while
 * its pivots hold.
 */
export class PencilSolver {
  readonly #pencil: Pencil;
  readonly #varying: Uint8Array;
  readonly #real: Float64Array;
  #lu: ComplexLu | undefined;

  constructor(pencil: Pencil) {
    this.#pencil = pencil;
    this.#varying = Uint8Array.from(pencil.c, (value) => (value === 0 ? 0 : 1));
    this.#real = new Float64Array(pencil.g.length);
  }

  /** Factors at s. Returns false if the matrix is singular there. */
  tune({ re, im }: Phasor): boolean {
    const { g, c } = this.#pencil;
    for (let k = 0; k < g.length; k++) this.#real[k] = g[k]! + re * c[k]!;
    if (this.#lu?.fix(this.#real, c) && this.#lu.factor(im)) return true;
    return this.#reorder(im);
  }

  #reorder(im: number): boolean {
    const { pattern, c, columnScale } = this.#pencil;
    const values = {
      real: this.#real,
      imaginary: c.map((value) => im * value),
      columnScale,
      varying: this.#varying,
    };
    const ordering = order(pattern, values);
    if ("singularColumns" in ordering) return false;
    this.#lu = new ComplexLu(record(pattern, ordering, this.#varying), false);
    this.#lu.fix(this.#real, c);
    this.#lu.factor(im);
    return true;
  }

  /** x ← (G + s·C)⁻¹·b at the s tuned to; `b` and `x` may be the same. */
  solve(b: ComplexVector, x: ComplexVector): void {
    const lu = this.#lu!;
    lu.drive(b.im);
    lu.solve();
    const imRe = Float64Array.from(b.re, (_, k) => lu.re(k));
    const imIm = Float64Array.from(b.re, (_, k) => lu.im(k));
    lu.drive(b.re);
    lu.solve();
    for (let k = 0; k < b.re.length; k++) {
      x.re[k] = lu.re(k) - imIm[k]!;
      x.im[k] = lu.im(k) + imRe[k]!;
    }
  }

  /** x ← (G + s·C)⁻¹·b for a real b at a real s. */
  solveReal(b: Float64Array, x: Float64Array): void {
    const lu = this.#lu!;
    lu.drive(b);
    lu.solve();
    for (let k = 0; k < x.length; k++) x[k] = lu.re(k);
  }
}
