import type { Collocation, TimePoint } from "./collocation.ts";
import type { TimeSystem } from "./time-system.ts";

/**
 * An unknown is judged by its swing so far, and never more finely than by these: a share of its size, and
 * V, A or rad/s.
 */
const LEAST_SWING_SHARE = 1e-6;
const LEAST_SWING = { node: 1e-3, branch: 1e-4, speed: 1e-3, temperature: 1 } as const;

/** Errors of steps add up, over a few periods to so many times that of one. */
const STEPS_THAT_ADD_UP = 50;

const ORDER = 5;
const SAFETY = 0.85;
const LARGEST_GROWTH = 2.5;
const LEAST_GROWTH = 0.2;

/**
 * Local error of a step. The charges are off by h⁵·F⁗/2880, F⁗ from the fourth divided difference of F over
 * this step and the one before. What that means for voltages and currents the step's own matrix tells; it
 * also forgives what a charge much faster than the step is off, which has died away within it.
 */
export class StepControl {
  readonly #system: TimeSystem;
  readonly #tolerance: number;
  readonly #least: Float64Array;
  readonly #greatest: Float64Array;
  readonly #floor: Float64Array;

  constructor(system: TimeSystem, tolerance: number, start: TimePoint) {
    this.#system = system;
    this.#tolerance = tolerance / STEPS_THAT_ADD_UP;
    this.#least = start.state.slice();
    this.#greatest = start.state.slice();
    const { list } = system.network.unknowns;
    this.#floor = Float64Array.from({ length: system.size }, (_, k) => LEAST_SWING[list[k]!.kind]);
    this.observe(start);
  }

  /** Takes note of how far the unknowns swing. */
  observe({ state }: TimePoint): void {
    const { weight } = this.#system.pair.memory;
    for (let k = 0; k < this.#system.size; k++) {
      if (state[k]! < this.#least[k]!) this.#least[k] = state[k]!;
      if (state[k]! > this.#greatest[k]!) this.#greatest[k] = state[k]!;
      weight[k] = 1 / this.#allowed(k, state[k]!);
    }
  }

  #allowed(k: number, value: number): number {
    const least = Math.min(this.#least[k]!, value);
    const greatest = Math.max(this.#greatest[k]!, value);
    const size = Math.max(Math.abs(least), Math.abs(greatest));
    return this.#tolerance * (greatest - least + LEAST_SWING_SHARE * size + this.#floor[k]!);
  }

  /**
   * Largest error of the step just solved, from `start`, in units of what is allowed; `before` are two points
   * before the start, the latest last, or none.
   */
  error(before: readonly TimePoint[], start: TimePoint, formula: Collocation): number {
    const { middle, end } = formula;
    const h = end.seconds - start.seconds;
    const { hasCharge, isStored, size, pair } = this.#system;
    const { residual, dx } = pair.memory;
    const estimate = before.length === 2 ? withHistory(before[0]!, before[1]!, start, middle, end) : fromBend;
    for (let k = 0; k < size; k++) {
      // the step's matrix makes 12·c/(12 − 6·hλ + (hλ)²) of it: as it is where slow, nothing where fast
      residual[2 * k] = hasCharge[k] === 1 ? (1.5 * estimate(k, h, start, middle, end)) / h : 0;
      residual[2 * k + 1] = 0;
    }
    pair.work.solve();
    let largest = 0;
    for (let k = 0; k < size; k++) {
      if (isStored[k] === 0) continue;
      const error = Math.abs(dx[2 * k + 1]!) / this.#allowed(k, end.state[k]!);
      if (!(error <= largest)) largest = error;
    }
    return Math.max(largest, before.length === 2 ? this.#gaps([...before, start, middle, end]) : 0);
  }

  /**
   * Nodes without a charge follow at once, however fast: they must not bend more between the points than
   * interpolation can tell. The fourth difference of their voltage is what a cubic would miss.
   */
  #gaps(points: readonly TimePoint[]): number {
    const { list } = this.#system.network.unknowns;
    const weights = divided(points);
    const quarter = ((points[4]!.seconds - points[2]!.seconds) / 2) ** 4;
    let largest = 0;
    for (let k = 0; k < this.#system.size; k++) {
      if (this.#system.isStored[k] === 1 || list[k]!.kind !== "node") continue;
      let difference = 0;
      for (let p = 0; p < 5; p++) difference += weights[p]! * points[p]!.state[k]!;
      const allowed = (STEPS_THAT_ADD_UP / 4) * this.#allowed(k, points[4]!.state[k]!);
      const error = (Math.abs(difference) * quarter) / allowed;
      if (error > largest) largest = error;
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
  const weights = divided([a, b, c, d, e]);
  const [wa, wb, wc, wd, we] = weights as [number, number, number, number, number];
  return (k, h) => {
    const difference = wa * a.f[k]! + wb * b.f[k]! + wc * c.f[k]! + wd * d.f[k]! + we * e.f[k]!;
    return (h ** 5 * difference) / 120;
  };
}

/** Weights of the divided difference over points in time. */
function divided(points: readonly TimePoint[]): number[] {
  return points.map((point) =>
    points.reduce(
      (product, other) => (other === point ? product : product / (point.seconds - other.seconds)),
      1,
    ),
  );
}
