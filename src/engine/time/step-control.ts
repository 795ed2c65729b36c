import type { TimePoint } from "./collocation.ts";
import type { TimeSystem } from "./time-system.ts";

/** A row's charge is judged by its swing so far, and never more finely than by these. */
const LEAST_SWING_SHARE = 1e-6;
/**
 * V or A: swings below this, times the row's own capacitance or inductance, do not count. Where only
 * windings hold a node, rounding of their flux over a step of nanoseconds would be taken for a signal.
 */
const LEAST_SWING = 0.1;

const ORDER = 5;
const SAFETY = 0.85;
const LARGEST_GROWTH = 2.5;
const LEAST_GROWTH = 0.2;
/**
 * Local error of the charges over a step, from the fourth divided difference of F over this step and the
 * one before: the integral of F by the formula is off by h⁵·F⁗/2880. In units of what is allowed.
 */
export class StepControl {
  readonly #system: TimeSystem;
  readonly #tolerance: number;
  readonly #least: Float64Array;
  readonly #greatest: Float64Array;
  /** Swing that counts whatever was seen, by row. */
  readonly #floor: Float64Array;

  constructor(system: TimeSystem, tolerance: number, start: TimePoint) {
    this.#system = system;
    this.#tolerance = tolerance;
    this.#least = start.q.slice();
    this.#greatest = start.q.slice();
    this.#floor = new Float64Array(system.size);
    const { row, column } = system.pattern;
    system.c.forEach((value, slot) => {
      if (row[slot] === column[slot]) this.#floor[row[slot]!] = LEAST_SWING * Math.abs(value);
    });
  }

  /** Takes note of how far the charges swing. */
  observe({ q }: TimePoint): void {
    for (let k = 0; k < this.#system.size; k++) {
      if (q[k]! < this.#least[k]!) this.#least[k] = q[k]!;
      if (q[k]! > this.#greatest[k]!) this.#greatest[k] = q[k]!;
    }
  }

  #allowed(k: number, q: number): number {
    const least = Math.min(this.#least[k]!, q);
    const greatest = Math.max(this.#greatest[k]!, q);
    const size = Math.max(Math.abs(least), Math.abs(greatest));
    const swing = greatest - least + LEAST_SWING_SHARE * size + this.#floor[k]!;
    return this.#tolerance * swing + Number.MIN_VALUE;
  }

  /** Largest error of a step over the points `before` (two, the latest last; or none), start, middle, end. */
  error(before: readonly TimePoint[], start: TimePoint, middle: TimePoint, end: TimePoint): number {
    const h = end.seconds - start.seconds;
    let largest = 0;
    const { hasCharge, size } = this.#system;
    const estimate = before.length === 2 ? withHistory(before[0]!, before[1]!, start, middle, end) : fromBend;
    for (let k = 0; k < size; k++) {
      if (hasCharge[k] === 0) continue;
      const error = Math.abs(estimate(k, h, start, middle, end)) / this.#allowed(k, end.q[k]!);
      if (!(error <= largest)) largest = error;
    }
    return largest;
  }

  /** Factor by which the next step may be longer (or must be shorter). */
  static growth(error: number): number {
    if (!(error > 0)) return LARGEST_GROWTH;
    return Math.min(LARGEST_GROWTH, Math.max(LEAST_GROWTH, SAFETY * error ** (-1 / ORDER)));
  }
}

type Estimate = (k: number, h: number, start: TimePoint, middle: TimePoint, end: TimePoint) => number;

/**
 * Without points before the step: from how F bends, d/S ≈ (h/τ)²/4 of its size, the time constant τ is
 * guessed, and the error of the formula with it, h·S·(h/τ)⁵/2880.
 */
const fromBend: Estimate = (k, h, start, middle, end) => {
  const size = Math.abs(start.f[k]!) + Math.abs(middle.f[k]!) + Math.abs(end.f[k]!);
  const bend = Math.abs(start.f[k]! - 2 * middle.f[k]! + end.f[k]!);
  return size > 0 ? (h * size * ((4 * bend) / size) ** 2.5) / 2880 : 0;
};

/** h⁵/2880·F⁗, F⁗ = 24 times the divided difference over five points. */
function withHistory(a: TimePoint, b: TimePoint, c: TimePoint, d: TimePoint, e: TimePoint): Estimate {
  const points = [a, b, c, d, e];
  const weights = points.map((point) =>
    points.reduce(
      (product, other) => (other === point ? product : product / (point.seconds - other.seconds)),
      1,
    ),
  );
  const [wa, wb, wc, wd, we] = weights as [number, number, number, number, number];
  return (k, h) => {
    const difference = wa * a.f[k]! + wb * b.f[k]! + wc * c.f[k]! + wd * d.f[k]! + we * e.f[k]!;
    return (h ** 5 * difference) / 120;
  };
}
