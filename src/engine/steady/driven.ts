import type { SolvedPoint } from "../operating-point.ts";
import type { Phasor } from "../small-signal.ts";
import { PortBalance, type Slopes } from "./port-balance.ts";

/** What a circuit comes to under a steady sine. */
export interface DrivenSteady {
  readonly omega: number;
  readonly harmonics: number;
  /** Mean value of an unknown. */
  readonly mean: (unknown: number) => number;
  /** Peak phasor of an unknown's harmonic (1 is the fundamental); the EMF is a sine, phasor −j. */
  readonly phasor: (unknown: number, harmonic: number) => Phasor;
}

/** Newton steps for one level, and when one is the last, V. */
const MOST_STEPS = 40;
const SETTLED = 1e-9;
/** A step beyond this leads nowhere, V. */
const LARGEST = 1e6;
/** A step shorter than the last by this factor needs no new derivatives. */
const QUICK = 0.2;
/** No guess goes farther ahead than this many times the last stride. */
const FARTHEST = 1.5;
/** How often the way to a level is halved. */
const HALVINGS = 7;

/**
 * A circuit under a sine EMF, by harmonic balance: exactly periodic, however slowly its capacitors would
 * settle. Junction temperatures stay those of the operating point. Levels follow each other, each beginning
 * from the one before.
 */
export class DrivenCircuit {
  readonly #balance: PortBalance;
  #u: Float64Array;
  #volts = 0;
  /** The level before that. */
  #before: { readonly u: Float64Array; readonly volts: number } | undefined;

  /** `source` is an index into `Circuit.parts`. */
  constructor(point: SolvedPoint, source: number, hertz: number, harmonics: number) {
    this.#balance = new PortBalance(point, source, 2 * Math.PI * hertz, harmonics);
    this.#u = new Float64Array(this.#balance.size);
  }

  /** The steady state at an EMF, V peak; nothing if none is found: the next one begins where this one did. */
  at(volts: number): DrivenSteady | undefined {
    let stride = 1;
    for (let halvings = 0; halvings <= HALVINGS; ) {
      const next = stride === 1 ? volts : this.#volts + (volts - this.#volts) * stride;
      const found = this.#settled(next);
      if (found === undefined) {
        stride /= 2;
        halvings++;
        continue;
      }
      if (next !== this.#volts) this.#before = { u: this.#u, volts: this.#volts };
      this.#u = found;
      this.#volts = next;
      if (next === volts) return this.#balance.described(found, volts);
      stride = Math.min(1, 2 * stride);
    }
    return undefined;
  }

  /** From the last two levels straight on, or from the last by what its source has gained. */
  #guess(volts: number): Float64Array {
    const [before, last] = [this.#before, this.#volts];
    const ahead = before === undefined ? Number.POSITIVE_INFINITY : (volts - last) / (last - before.volts);
    if (before === undefined || before.volts === 0 || !(Math.abs(ahead) <= FARTHEST))
      return this.#balance.raised(this.#u, volts - last);
    return this.#u.map((value, k) => value + ahead * (value - before.u[k]!));
  }

  /** Newton's iteration to its end. */
  #settled(volts: number): Float64Array | undefined {
    const balance = this.#balance;
    let u = this.#guess(volts);
    for (let count = 0; count < MOST_STEPS; count++) {
      const slopes = balance.linearise(u);
      const step = slopes.far.solve(balance.residual(u, volts, false));
      const change = measure(step);
      if (!(change < LARGEST)) return undefined;
      u = less(u, step);
      if (!slopes.whole) continue;
      if (change < SETTLED) return u;
      const carried = this.#carriedOn(u, volts, slopes, change);
      u = carried.u;
      if (carried.change < SETTLED) return u;
    }
    return undefined;
  }

  /** Further steps by the same derivatives, as long as each is much shorter than the one before. */
  #carriedOn(from: Float64Array, volts: number, slopes: Slopes, first: number) {
    let [u, before] = [from, first];
    for (;;) {
      const step = slopes.far.solve(this.#balance.residual(u, volts, true));
      const change = measure(step);
      if (!(change < QUICK * before)) return { u, change: Number.POSITIVE_INFINITY };
      u = less(u, step);
      if (change < SETTLED) return { u, change };
      before = change;
    }
  }
}

const measure = (step: Float64Array): number => {
  let largest = 0;
  for (const value of step) {
    if (!Number.isFinite(value)) return Number.NaN;
    largest = Math.max(largest, Math.abs(value));
  }
  return largest;
};

const less = (u: Float64Array, step: Float64Array): Float64Array => u.map((value, k) => value - step[k]!);
