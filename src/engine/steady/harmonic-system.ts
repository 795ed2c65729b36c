import { Jacobian } from "../jacobian.ts";
import type { Network } from "../network.ts";
import { columnScale, type Unknown } from "../unknowns.ts";
import type { Fourier } from "./fourier.ts";
import { copied, HarmonicEquations, type Held, type Swing } from "./harmonic-equations.ts";
import { SlotTrail } from "./slot-trail.ts";

/** Shares of a Newton step down to which it is shortened, and a step, V, that needs no looking after. */
const SHORTEST = 1e-4;
const CERTAIN = 1e-7;
/** A step shorter than the last by this factor needs no new derivatives. */
const QUICK = 0.1;

/** Newton's iteration on the equations of harmonic balance. */
export class HarmonicSystem {
  readonly #equations: HarmonicEquations;
  readonly #unknowns: readonly Unknown[];
  readonly #jacobian: Jacobian;
  readonly #trail: SlotTrail;
  readonly #step: Float64Array;
  readonly #next: Float64Array;

  /** `like` as in `HarmonicEquations`. */
  constructor(network: Network, fixed: Float64Array, harmonics: number, omega: number, like?: Swing) {
    this.#equations = new HarmonicEquations(network, fixed, harmonics, omega, like);
    const { size, width } = this.#equations;
    this.#unknowns = network.unknowns.list.slice(0, width);
    this.#step = new Float64Array(size);
    this.#next = new Float64Array(size);
    this.#trail = new SlotTrail(size);
    const still = { x: new Float64Array(size - 2), omega, sigma: 0 };
    this.#equations.write(like ?? still, { unknown: 0 }, (row, column) => this.#trail.mention(row, column));
    const scale = columnScale(this.#unknowns);
    const scales = Float64Array.from({ length: size }, (_, k) => scale[k % width]!);
    this.#jacobian = new Jacobian(this.#trail.finish(), new Int32Array(0), scales);
  }

  get fourier(): Fourier {
    return this.#equations.fourier;
  }

  get size(): number {
    return this.#equations.size;
  }

  /**
   * One Newton step in place, shortened until what is left calls for a shorter one (the natural monotonicity
   * test, Deuflhard 1974), and further ones with the same derivatives while they shrink quickly. Returns the
   * largest change of a voltage in the last, V, or NaN if there is no step.
   */
  improve(swing: Swing, held: Held): number {
    const { constant } = this.#jacobian;
    constant.fill(0);
    this.#trail.rewind();
    this.#equations.write(swing, held, (_row, _column, value) => {
      constant[this.#trail.next()]! += value;
    });
    this.#jacobian.touch();
    if (this.#jacobian.solve(this.#equations.residual, this.#step) !== undefined) return Number.NaN;
    const whole = this.#measure(this.#step);
    const from = copied(swing);
    for (let share = 1; share > SHORTEST; share /= 2) {
      this.#advance(from, share, swing);
      if (whole < CERTAIN) return whole;
      const left = this.#remaining(swing, held);
      if (left <= QUICK * share * whole) return this.#carryOn(swing, held, left);
      if (left <= (1 - share / 2) * whole) return share * whole;
    }
    return Number.NaN;
  }

  /** The step that the same derivatives give from here, to `next`, and its measure. */
  #remaining(swing: Swing, held: Held): number {
    this.#equations.write(swing, held);
    this.#jacobian.solve(this.#equations.residual, this.#next);
    return this.#measure(this.#next);
  }

  /** Takes the remaining steps one after the other as long as each is much shorter than the one before. */
  #carryOn(swing: Swing, held: Held, left: number): number {
    let change = left;
    for (;;) {
      this.#step.set(this.#next);
      this.#advance(copied(swing), 1, swing);
      if (change < CERTAIN / 1000) return change;
      const next = this.#remaining(swing, held);
      if (!(next <= QUICK * change)) return change;
      change = next;
    }
  }

  /** swing ← from − share·step. */
  #advance(from: Swing, share: number, swing: Swing): void {
    for (let k = 0; k < from.x.length; k++) swing.x[k] = from.x[k]! - share * this.#step[k]!;
    swing.omega = from.omega - share * this.#equations.unit * this.#step[this.size - 2]!;
    swing.sigma = from.sigma - share * this.#equations.unit * this.#step[this.size - 1]!;
  }

  /** The largest change of a voltage in a step, V; NaN if anything in it is not finite. */
  #measure(step: Float64Array): number {
    const list = this.#unknowns;
    let largest = 0;
    let sum = 0;
    for (let k = 0; k < step.length; k++) {
      sum += step[k]!;
      if (k < step.length - 2 && list[k % this.#equations.width]!.kind === "node")
        largest = Math.max(largest, Math.abs(step[k]!));
    }
    return Number.isFinite(sum) ? largest : Number.NaN;
  }
}
