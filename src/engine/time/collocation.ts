import { StepMatrix } from "./step-matrix.ts";
import type { Evaluation, TimeSystem } from "./time-system.ts";

/** A point in time with what the formulae need of it. */
export interface TimePoint extends Evaluation {
  seconds: number;
  readonly state: Float64Array;
}

export function timePoint(system: TimeSystem, state: Float64Array): TimePoint {
  const rows = system.network.unknowns.stateSize;
  const slots = system.pattern.row.length;
  return {
    seconds: 0,
    state: state.slice(),
    f: new Float64Array(rows),
    q: new Float64Array(rows),
    g: new Float64Array(slots),
    c: new Float64Array(slots),
  };
}

export function copyPoint(from: TimePoint, to: TimePoint): void {
  to.seconds = from.seconds;
  to.state.set(from.state);
  to.f.set(from.f);
  to.q.set(from.q);
  to.g.set(from.g);
  to.c.set(from.c);
}

/** Newton stops when no more than this is left to change, V or mA. */
const SETTLED = 1e-7;
/** Changes this small that no longer shrink are rounding: a flux of volts times seconds, over a short step. */
const NEAR = 1e-5;
const MOST_ITERATIONS = 10;
const EULER_SETTLED = 1e-8;
const MOST_EULER_ITERATIONS = 60;
/** While the changes shrink faster than this the slopes are kept. */
const FAST = 0.02;

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
  readonly matrix: StepMatrix;
  readonly middle: TimePoint;
  readonly end: TimePoint;
  /** Newton iterations since the start, for statistics. */
  iterations = 0;
  readonly #drive: Drive;
  readonly #middle: Float64Array;
  readonly #end: Float64Array;
  readonly #weight: Float64Array;

  constructor(system: TimeSystem, state: Float64Array, drive: Drive) {
    this.system = system;
    this.matrix = new StepMatrix(system);
    this.middle = timePoint(system, state);
    this.end = timePoint(system, state);
    this.#drive = drive;
    this.#middle = new Float64Array(system.size);
    this.#end = new Float64Array(system.size);
    const { list } = system.network.unknowns;
    this.#weight = Float64Array.from({ length: system.size }, (_, k) =>
      list[k]!.kind === "branch" ? 1e3 : 1,
    );
  }

  /** F, q and slopes of a point at its own time. */
  evaluate(point: TimePoint): void {
    this.#drive(point.seconds, this.system.emf);
    this.system.evaluate(point.state, point);
  }

  /**
   * A step of length `h` from `start`; `middle` and `end` hold first guesses and then the solution.
   * Returns whether Newton came to rest.
   */
  step(start: TimePoint, h: number): boolean {
    const { middle, end } = this;
    middle.seconds = start.seconds + h / 2;
    end.seconds = start.seconds + h;
    let last = 1e300;
    let fresh = false;
    for (let iteration = 0; iteration < MOST_ITERATIONS; iteration++) {
      this.iterations++;
      this.evaluate(middle);
      this.evaluate(end);
      if (!fresh && !this.matrix.factor(middle, end, [2 / h, 0.5 / h, -8 / h, 4 / h])) return false;
      this.#residual(start, h);
      this.matrix.solve(this.#middle, this.#end);
      const change = this.#correct();
      if (!Number.isFinite(change) || change > Math.max(10 * last, NEAR)) return false;
      const rate = iteration === 0 ? 0.5 : change / last;
      const left = rate < 1 ? (change * rate) / (1 - rate) : change;
      if (left < SETTLED || (change < NEAR && iteration > 0 && rate > 0.5)) {
        this.evaluate(middle);
        this.evaluate(end);
        return true;
      }
      fresh = rate < FAST;
      last = change;
    }
    return false;
  }

  #residual(start: TimePoint, h: number): void {
    const { middle, end } = this;
    const { hasCharge, size } = this.system;
    for (let k = 0; k < size; k++) {
      const dm = (middle.q[k]! - start.q[k]!) / h;
      const d1 = (end.q[k]! - start.q[k]!) / h;
      const f0 = hasCharge[k] === 1 ? start.f[k]! : 0;
      const rm = -middle.f[k]! + 2 * dm + d1 / 2 - f0 / 2;
      const r1 = -end.f[k]! - 8 * dm + 4 * d1 + f0;
      this.#middle[k] = rm;
      this.#end[k] = r1;
    }
  }

  /** Takes the Newton correction from both points; returns its largest change, V or mA. */
  #correct(): number {
    const { middle, end } = this;
    let largest = 0;
    for (let k = 0; k < this.system.size; k++) {
      const d1 = this.#end[k]!;
      const dm = this.#middle[k]!;
      end.state[k]! -= d1;
      middle.state[k]! -= dm;
      const change = Math.max(Math.abs(d1), Math.abs(dm)) * this.#weight[k]!;
      if (!(change <= largest)) largest = change;
    }
    return largest;
  }

  /**
   * A step of implicit Euler from `start` to `end`: it damps what an event has stirred up, and with a very
   * short `h` finds the state right after a jump, charges kept. `end` holds a first guess.
   */
  euler(start: TimePoint, h: number): boolean {
    const { end, system, matrix } = this;
    end.seconds = start.seconds + h;
    this.#drive(end.seconds, system.emf);
    system.remember(end.state);
    let last = Number.POSITIVE_INFINITY;
    for (let iteration = 0; iteration < MOST_EULER_ITERATIONS; iteration++) {
      this.iterations++;
      const whole = system.evaluate(end.state, end, true);
      if (!matrix.factor(end, end, [1 / h, 0, 0, 1 / h])) return false;
      for (let k = 0; k < system.size; k++) this.#end[k] = (end.q[k]! - start.q[k]!) / h - end.f[k]!;
      this.#middle.fill(0);
      matrix.solve(this.#middle, this.#end);
      let change = 0;
      for (let k = 0; k < system.size; k++) {
        end.state[k]! -= this.#end[k]!;
        const size = Math.abs(this.#end[k]!) * this.#weight[k]!;
        if (!(size <= change)) change = size;
      }
      if (!Number.isFinite(change)) return false;
      if (whole && (change < EULER_SETTLED || (change < NEAR && change > last / 2))) {
        this.evaluate(end);
        return true;
      }
      last = change;
    }
    return false;
  }
}
