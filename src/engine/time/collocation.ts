import { END, MIDDLE, type TimeSystem } from "./time-system.ts";

/** A point in time with what the formulae need of it: unknowns, F and charges by row. */
export interface TimePoint {
  seconds: number;
  /** Its number in the system's memory, where it lies. */
  readonly index: number;
  readonly state: Float64Array;
  readonly f: Float64Array;
  readonly q: Float64Array;
}

/** A point with a state, one of the few that the system has room for; F and charges are yet to be found. */
export function timePoint(system: TimeSystem, state: Float64Array): TimePoint {
  const point = { seconds: 0, ...system.newPoint() };
  point.state.set(state);
  return point;
}

export function copyPoint(from: TimePoint, to: TimePoint): void {
  to.seconds = from.seconds;
  to.state.set(from.state);
  to.f.set(from.f);
  to.q.set(from.q);
}

/** Newton stops when what is left to change is this share of the error that a step may have. */
const SETTLED = 0.1;
/** Error that a step may have, V or A, until somebody judges the unknowns. */
const FINE = 1e-9;
/** So much of a correction is lost by middling pivots, at worst. */
const ROUNDING = 1e-6;
/** Slopes are taken anew when the changes shrink less than this. */
const SLOW = 0.3;
/** Corrections below so many times the error that a step may have give no reason to look for another order. */
const MUCH = 10;
/** Changes this small, V or mA, that no longer shrink are rounding: a flux of volts times seconds, over a short step. */
const NEAR = 1e-5;
const MOST_ITERATIONS = 10;
/** A correction by so many times the error that a step may have: the guess has not seen what happens in the step. */
const BLIND = 1e4;
/** Iterations in a row, with new slopes, that leave junctions where they were bent: they walk along an exponential. */
const MOST_WALKED = 2;
const EULER_SETTLED = 1e-8;
const MOST_EULER_ITERATIONS = 60;
/** Conductances by which nodes are held, S, and how they are let go. */
const FIRMEST = 1e6;
const LOOSEST = 1e-12;
const LOOSENING = 0.1;
const LEAST_LOOSENING = 0.9;

/** Sets the sources' EMF to what they are at a time. */
export type Drive = (seconds: number, emf: Float64Array) => void;

/**
 * One step of the three-point Lobatto IIIA formula (order 4), the collocation at both ends and the middle:
 *
 *     q_m − q_0 = h·(5·F_0 + 8·F_m − F_1)/24        q_1 − q_0 = h·(F_0 + 4·F_m + F_1)/6
 *
 * It is symmetric: an oscillation neither grows nor dies by the length of the step, and what is algebraic
 * holds exactly at the end. Solved for F the two equations are
 *
 *     −F_m + (2·Δq_m + Δq_1/2)/h − F_0/2 = 0        −F_1 + (4·Δq_1 − 8·Δq_m)/h + F_0 = 0
 *
 * and Newton's matrix has a 2 × 2 block for every entry of the circuit's. A transistor that begins to conduct
 * within the step has other slopes at its middle than at its end, so both have their own.
 * Source: Hairer & Wanner, Solving Ordinary Differential Equations II, IV.5.
 */
export class Collocation {
  readonly system: TimeSystem;
  middle: TimePoint;
  end: TimePoint;
  /** Newton iterations and factorisations since the start, for statistics. */
  iterations = 0;
  factors = 0;
  /** Whether nothing determined some unknown in the matrix last factored. */
  undetermined = false;
  readonly #drive: Drive;
  /** Volts and milliamperes weigh alike. */
  readonly #alike: Float64Array;

  constructor(system: TimeSystem, state: Float64Array, drive: Drive) {
    this.system = system;
    this.middle = timePoint(system, state);
    this.end = timePoint(system, state);
    this.#drive = drive;
    system.pair.memory.weight.fill(1 / FINE);
    const { network, size } = system;
    const { list } = network.unknowns;
    this.#alike = Float64Array.from({ length: size }, (_, k) => (list[k]!.kind === "branch" ? 1e3 : 1));
  }

  /** F and q of a point at its own time. */
  evaluate(point: TimePoint): void {
    this.#emf(point.seconds, END);
    this.#bothAt(point.state);
    this.system.evaluateEnd();
    this.#takeEnd(point);
  }

  #emf(seconds: number, point: typeof MIDDLE | typeof END): void {
    this.#drive(seconds, this.system.emf);
    this.system.drive(point);
  }

  #bothAt(state: Float64Array): void {
    const { x } = this.system.pair.memory;
    for (let k = 0; k < this.system.size; k++) x[2 * k] = x[2 * k + 1] = state[k]!;
  }

  /** Takes what has been found for the end. */
  #takeEnd({ state, f, q }: TimePoint): void {
    const { memory } = this.system.pair;
    for (let k = 0; k < this.system.size; k++) {
      state[k] = memory.x[2 * k + END]!;
      f[k] = memory.f[2 * k + END]!;
      q[k] = memory.q[2 * k + END]!;
    }
  }

  #begin(start: TimePoint, h: number): void {
    const { middle, end } = this;
    const { memory } = this.system.pair;
    middle.seconds = start.seconds + h / 2;
    end.seconds = start.seconds + h;
    this.#emf(middle.seconds, MIDDLE);
    this.#emf(end.seconds, END);
    memory.startF.set(start.f);
    memory.startQ.set(start.q);
    setFour(memory.coefficients, 2 / h, -8 / h, 0.5 / h, 4 / h);
    memory.startWeight[0] = -0.5;
    memory.startWeight[1] = 1;
  }

  /**
   * A step of length `h` from `start`; the unknowns in `pair.memory` are first guesses; `middle` and `end` get the
   * solution. Changes are weighed by `pair.memory.weight`, 1 being the error that a step may have. Returns whether Newton came
   * to rest; without patience, a search that promises to be long is given up.
   */
  step(start: TimePoint, h: number, patient = true): boolean {
    this.#begin(start, h);
    if (!this.#iterate(patient)) return false;
    this.system.carry();
    this.system.pair.work.take(this.middle.index, this.end.index);
    return true;
  }

  #iterate(patient: boolean): boolean {
    const { system } = this;
    const { pair } = system;
    let last = Number.POSITIVE_INFINITY;
    let stale = true;
    let wasFresh = false;
    let lastOff = Number.POSITIVE_INFINITY;
    let walked = 0;
    let reorders = 1;
    system.move();
    for (let iteration = 0; iteration < MOST_ITERATIONS; iteration++) {
      this.iterations++;
      system.evaluate();
      const fresh: boolean = stale;
      if (fresh && !this.#factor()) return false;
      pair.work.residual();
      pair.work.solve();
      const change = pair.work.correct();
      if (!Number.isFinite(change) || change > 10 * last) return false;
      const rate = change / last;
      // what the devices are off their tangents, and what is lost by pivots, or by slopes of before
      const off = system.move();
      const left: number = off + change * (fresh ? ROUNDING : 2 * rate);
      // new factors after new ones that do not bring it nearer, while all tangents hold, have lost too much by their order
      const lost: boolean = fresh && wasFresh && change > MUCH && rate > SLOW && off < SETTLED;
      if (!lost && left < SETTLED && (fresh || rate < 0.5)) return true;
      if (iteration > 0 && rate > 0.5 && this.#largest() < NEAR) return true;
      if (lost && reorders-- > 0) pair.startOver();
      stale = left > SLOW * change || off > 1 || lost;
      walked = fresh && off > SETTLED && off > lastOff / 2 ? walked + 1 : 0;
      if (!patient && (change > BLIND || walked >= MOST_WALKED)) return false;
      last = change;
      lastOff = off;
      wasFresh = fresh;
    }
    return false;
  }

  #factor(): boolean {
    this.factors++;
    this.undetermined = !this.system.factor();
    return !this.undetermined;
  }

  /** Largest change in the last correction, V or mA. */
  #largest(): number {
    const { dx } = this.system.pair.memory;
    let largest = 0;
    for (let k = 0; k < dx.length; k++) {
      const change = Math.abs(dx[k]!) * this.#alike[k >> 1]!;
      if (!(change <= largest)) largest = change;
    }
    return largest;
  }

  /**
   * A step of implicit Euler from `start` to `end`: it damps what an event has stirred up, and with a very
   * short `h` finds the state right after a jump, charges kept. `end` holds a first guess. Where Newton does
   * not get there by itself, every node is held where it is and let go little by little.
   */
  euler(start: TimePoint, h: number): boolean {
    const { end, system } = this;
    const { memory } = system.pair;
    const guess = end.state.slice();
    end.seconds = start.seconds + h;
    this.#drive(end.seconds, system.emf);
    memory.startQ.set(start.q);
    memory.startWeight.fill(0);
    setFour(memory.coefficients, 1 / h, 0, 0, 1 / h);
    system.remember(guess);
    if (this.#eulerFrom(guess)) return true;
    system.forget();
    if (this.#eulerFrom(guess)) return true;
    return this.#letGo(guess);
  }

  /** Continuation in a conductance that holds every node at the guess, in smaller steps where larger ones fail. */
  #letGo(guess: Float64Array): boolean {
    const { end, system } = this;
    end.state.set(guess);
    let held = FIRMEST / LOOSENING;
    let loosening = LOOSENING;
    while (held > LOOSEST && loosening < LEAST_LOOSENING) {
      system.hold(held * loosening, guess);
      system.forget();
      const found = this.#eulerFrom(end.state);
      if (found) held *= loosening;
      loosening = found ? Math.max(LOOSENING, loosening ** 2) : Math.sqrt(loosening);
    }
    system.refresh();
    return held <= LOOSEST && this.#eulerFrom(end.state);
  }

  #eulerFrom(guess: Float64Array): boolean {
    const { end, system } = this;
    system.drive(END);
    this.#bothAt(guess);
    let last = Number.POSITIVE_INFINITY;
    for (let iteration = 0; iteration < MOST_EULER_ITERATIONS; iteration++) {
      this.iterations++;
      const whole = system.evaluateEnd(true);
      const change = this.#eulerStep();
      if (!Number.isFinite(change)) return false;
      if (whole && (change < EULER_SETTLED || (change < NEAR && change > last / 2))) {
        system.evaluateEnd();
        this.#takeEnd(end);
        return true;
      }
      last = change;
    }
    return false;
  }

  /** One correction of the end alone; returns its largest change, V or mA. */
  #eulerStep(): number {
    const { pair, size } = this.system;
    if (!this.#factor()) return Number.NaN;
    pair.work.residual();
    for (let k = 0; k < size; k++) pair.memory.residual[2 * k] = 0;
    pair.work.solve();
    pair.work.correct();
    return this.#largest();
  }
}

function setFour(into: Float64Array, a: number, b: number, c: number, d: number): void {
  into[0] = a;
  into[1] = b;
  into[2] = c;
  into[3] = d;
}
