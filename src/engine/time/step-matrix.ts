import { ComplexLu } from "../kernel/complex-lu.ts";
import { record } from "../kernel/elimination.ts";
import { order } from "../kernel/order.ts";
import { columnScale } from "../unknowns.ts";
import type { TimeSystem } from "./time-system.ts";

/** Factors G + (re + j·im)·C for the steps; the order is kept while it suits the values. */
export class StepMatrix {
  readonly #system: TimeSystem;
  readonly #real: Float64Array;
  readonly #columnScale: Float64Array;
  #lu: ComplexLu | undefined;

  constructor(system: TimeSystem) {
    this.#system = system;
    this.#real = new Float64Array(system.g.length);
    this.#columnScale = columnScale(system.network.unknowns.list.slice(0, system.size));
  }

  /** Factors with the slopes last linearised, per second. False if nothing determines some unknown. */
  factor(re: number, im: number): boolean {
    const { g, c } = this.#system;
    for (let s = 0; s < g.length; s++) this.#real[s] = g[s]! + re * c[s]!;
    if (this.#lu?.fix(this.#real, c) && this.#lu.factor(im)) return true;
    const ordering = order(this.#system.pattern, {
      real: this.#real,
      imaginary: c.map((value) => im * value),
      columnScale: this.#columnScale,
      varying: this.#system.reactive,
    });
    if ("singularColumns" in ordering) return false;
    this.#lu = new ComplexLu(record(this.#system.pattern, ordering, this.#system.reactive));
    this.#lu.fix(this.#real, c);
    this.#lu.factor(im);
    return true;
  }

  /** Solves for a complex right-hand side by row; the solution overwrites it, by unknown. */
  solve(re: Float64Array, im: Float64Array): void {
    const lu = this.#lu!;
    lu.drive(re, im);
    lu.solve();
    for (let k = 0; k < this.#system.size; k++) {
      re[k] = lu.re(k);
      im[k] = lu.im(k);
    }
  }
}
