import type { Collocation, TimePoint } from "./collocation.ts";
import type { TimeSystem } from "./time-system.ts";

/**
 * An unknown is judged by its swing so far, and never more finely than by these: a share of its size, and
 * V, A or rad/s.
 */
const LEAST_SWING_SHARE = 1e-6;
const LEAST_SWING = { node: 1e-3, branch: 1e-4, speed: 1e-3, temperature: 1 } as const;

/** Errors of steps add up, over a few periods to so many times that of one. */
const STEPS_THAT_ADD_UP = 5;

/** What lies between the points may be off by so much less than the tolerance. */
const GAP = 3;
/** Differences of voltages smaller than this are rounding, V. */
const ROUNDING = 1e-10;

/**
 * A charge's error c, for the step's matrix: it makes 12·c/(12 − 6·hλ + (hλ)²) of this share of it, which is
 * c where it is slow, and little where it is fast and has died away within the step.
 */
const CHARGE = 1.5;
const ORDER = 5;
const SAFETY = 0.9;
const LARGEST_GROWTH = 2.5;
const LEAST_GROWTH = 0.2;
/** An error below this says nothing of how errors go on. */
const LEAST_TREND = 1e-2;

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
  /** Error that each unknown may have in a step. */
  readonly #allowed: Float64Array;
  /** Rows with a charge, unknowns that carry one, and nodes that do not. */
  readonly #charged: Int32Array;
  readonly #stored: Int32Array;
  readonly #free: Int32Array;
  /** 1 for those of the last two. */
  readonly #isStored: Uint8Array;
  readonly #isFree: Uint8Array;
  /** Points looked at together: two before a step, its start, middle and end. */
  readonly #five: TimePoint[] = [];
  /** Length and error of the last accepted step. */
  #before = { h: 0, error: 1 };

  constructor(system: TimeSystem, tolerance: number, start: TimePoint) {
    const { size, hasCharge, isStored } = system;
    this.#system = system;
    this.#tolerance = tolerance / STEPS_THAT_ADD_UP;
    this.#least = start.state.slice(0, size).fill(Number.POSITIVE_INFINITY);
    this.#greatest = this.#least.map(() => Number.NEGATIVE_INFINITY);
    this.#allowed = new Float64Array(size);
    const { list } = system.network.unknowns;
    this.#floor = Float64Array.from({ length: size }, (_, k) => LEAST_SWING[list[k]!.kind]);
    const all = [...hasCharge.keys()];
    this.#charged = Int32Array.from(all.filter((k) => hasCharge[k] === 1));
    this.#stored = Int32Array.from(all.filter((k) => isStored[k] === 1));
    this.#free = Int32Array.from(all.filter((k) => list[k]!.kind === "node"));
    this.#isStored = isStored;
    this.#isFree = Uint8Array.from({ length: size }, (_, k) => (list[k]!.kind === "node" ? 1 : 0));
    this.observe(start);
  }

  /** Takes note of how far the unknowns swing. */
  observe({ state }: TimePoint): void {
    const [least, greatest] = [this.#least, this.#greatest];
    const { weight, storedWeight, gapWeight } = this.#system.pair.memory;
    for (let k = 0; k < least.length; k++) {
      const value = state[k]!;
      if (value >= least[k]! && value <= greatest[k]!) continue;
      if (value < least[k]!) least[k] = value;
      if (value > greatest[k]!) greatest[k] = value;
      this.#allowed[k] = this.#allowedFor(k, value);
      weight[k] = 1 / this.#allowed[k]!;
      storedWeight[k] = this.#isStored[k]! * weight[k]!;
      gapWeight[k] = this.#isFree[k]! * weight[k]!;
    }
  }

  /** Error allowed to an unknown if it takes this value besides those that it has had. */
  #allowedFor(k: number, value: number): number {
    const least = Math.min(this.#least[k]!, value);
    const greatest = Math.max(this.#greatest[k]!, value);
    const size = Math.max(Math.abs(least), Math.abs(greatest));
    return this.#tolerance * (greatest - least + LEAST_SWING_SHARE * size + this.#floor[k]!);
  }

  /**
   * Largest error of the step just solved, in units of what is allowed; the last of `past` is its start, with two
   * points of the step before it, or none.
   */
  error(past: readonly TimePoint[], { middle, end }: Collocation): number {
    const start = past[past.length - 1]!;
    if (past.length < 3) return this.#first(start, middle, end);
    const { work } = this.#system.pair;
    const points = this.#five;
    for (let n = 0; n < 3; n++) points[n] = past[past.length - 3 + n]!;
    points[3] = middle;
    points[4] = end;
    this.#weigh(points);
    const [a, b] = [points[0]!.index, points[1]!.index];
    work.history(a, b, start.index, middle.index, end.index);
    work.solve();
    const rough = work.gaps(a, b, start.index, middle.index, end.index);
    // an unknown that swings wider than ever may be off by more
    return rough <= 1 ? rough : this.#gaps(points, this.#solved(end));
  }

  /** Error of a step that has none before it. */
  #first(start: TimePoint, middle: TimePoint, end: TimePoint): number {
    const { pair } = this.#system;
    pair.memory.residual.fill(0);
    this.#fromBend(start, middle, end);
    pair.work.solve();
    return this.#solved(end);
  }

  /** Largest error of what the matrix has made of the charges' errors. */
  #solved(end: TimePoint): number {
    const { dx } = this.#system.pair.memory;
    let largest = 0;
    for (let e = 0; e < this.#stored.length; e++) {
      const k = this.#stored[e]!;
      largest = this.#larger(largest, k, Math.abs(dx[2 * k + 1]!), end.state[k]!);
    }
    return largest;
  }

  /**
   * Weights of the points: the charge is off by h⁵/2880·F⁗, F⁗ = 24 times the divided difference over five
   * points, in the step's matrix; and between the points, see `#gaps`.
   */
  #weigh(points: readonly TimePoint[]): void {
    const { bendWeights, gapWeights } = this.#system.pair.memory;
    const h = points[4]!.seconds - points[2]!.seconds;
    const bend = (CHARGE * h ** 4) / 120;
    const gap = (GAP * (h / 2) ** 4) / STEPS_THAT_ADD_UP;
    for (let n = 0; n < 5; n++) {
      const divided = dividedBy(points, n);
      bendWeights[n] = bend * divided;
      gapWeights[n] = gap * divided;
    }
    gapWeights[5] = ROUNDING;
  }

  #larger(largest: number, k: number, error: number, value: number): number {
    if (error <= largest * this.#allowed[k]!) return largest;
    return Math.max(largest, error / this.#allowedFor(k, value));
  }

  /**
   * Without points before the step: from how F bends, d/S ≈ (h/τ)²/4 of its size, the time constant τ is
   * guessed, and the error of the formula with it, h·S·(h/τ)⁵/2880.
   */
  #fromBend(start: TimePoint, middle: TimePoint, end: TimePoint): void {
    const { residual } = this.#system.pair.memory;
    for (const k of this.#charged) {
      const size = Math.abs(start.f[k]!) + Math.abs(middle.f[k]!) + Math.abs(end.f[k]!);
      const bend = Math.abs(start.f[k]! - 2 * middle.f[k]! + end.f[k]!);
      if (size > 0) residual[2 * k] = (CHARGE * size * ((4 * bend) / size) ** 2.5) / 2880;
    }
  }

  /**
   * Nodes without a charge follow at once, however fast: they must not bend more between the points than
   * interpolation can tell. The fourth difference of their voltage is what a cubic would miss.
   */
  #gaps(points: readonly TimePoint[], until: number): number {
    const [w0, w1, w2, w3, w4, least] = this.#system.pair.memory.gapWeights as unknown as Six;
    const [a, b, c, d, e] = points.map(({ state }) => state) as [
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    let largest = until;
    for (let n = 0; n < this.#free.length; n++) {
      const k = this.#free[n]!;
      const difference = w0 * a[k]! + w1 * b[k]! + w2 * c[k]! + w3 * d[k]! + w4 * e[k]!;
      largest = this.#larger(largest, k, Math.abs(difference) - least, e[k]!);
    }
    return largest;
  }

  /** Factor by which the next step may be longer, after one of length `h` has been accepted with this error. */
  accepted(h: number, error: number): number {
    const plain = StepControl.growth(error);
    const { h: last, error: lastError } = this.#before;
    this.#before = { h, error: Math.max(error, LEAST_TREND) };
    if (!(last > 0) || !(error > LEAST_TREND)) return plain;
    // errors that grow from step to step will go on growing (Gustafsson 1991)
    const trend = plain * (h / last) * (lastError / error) ** (1 / ORDER);
    return Math.max(LEAST_GROWTH, Math.min(plain, trend));
  }

  /** Forgets how errors went on. */
  restart(): void {
    this.#before = { h: 0, error: 1 };
  }

  /** Factor by which a step with this error may be longer (or must be shorter). */
  static growth(error: number): number {
    if (!(error > 0)) return LARGEST_GROWTH;
    return Math.min(LARGEST_GROWTH, Math.max(LEAST_GROWTH, SAFETY * error ** (-1 / ORDER)));
  }
}

type Six = [number, number, number, number, number, number];

/** Weight of one point in the divided difference over points in time. */
function dividedBy(points: readonly TimePoint[], n: number): number {
  const { seconds } = points[n]!;
  let product = 1;
  for (let m = 0; m < points.length; m++) if (m !== n) product /= seconds - points[m]!.seconds;
  return product;
}
