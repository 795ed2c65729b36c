import { Collocation, copyPoint, type Drive, type TimePoint, timePoint } from "./collocation.ts";
import { valueAt, weightsAt } from "./interpolation.ts";
import { StepControl } from "./step-control.ts";
import { StiffFilter } from "./stiff-filter.ts";
import type { TimeSystem } from "./time-system.ts";

export interface IntegratorOptions {
  /** Allowed error, as a share of the swing; a step gets a part of it. */
  readonly tolerance: number;
  /** Longest step, s. */
  readonly longest: number;
  readonly drive: Drive;
}

/** Statistics of a run. */
export interface IntegratorCounts {
  steps: number;
  rejected: number;
  iterations: number;
}

/** Right after an event a jump is taken in this time, s. */
const JUMP = 1e-12;
const FIRST_STEP = 2e-9;
/** Every so many steps what is much faster than the step is filtered out. */
const FILTERED = 4;
const SHORTEST = 1e-15;
/** Nothing in an audio circuit is faster than this, s: where shorter steps differ, it is by rounding. */
const SHORTEST_JUDGED = 1e-12;

/**
 * Integrates a circuit from state to state, one accepted step at a time. `advance` never goes past the time
 * given; `restart` begins anew after sources, switches or values have jumped.
 */
export class Integrator {
  readonly system: TimeSystem;
  readonly counts: IntegratorCounts = { steps: 0, rejected: 0, iterations: 0 };
  /** The point reached. */
  readonly now: TimePoint;
  /** Points of the last steps for interpolation, oldest first; `now` is the last. */
  points: TimePoint[];
  readonly #options: IntegratorOptions;
  readonly #formula: Collocation;
  readonly #spare: [TimePoint, TimePoint, TimePoint, TimePoint];
  readonly #filter: StiffFilter;
  readonly #control: StepControl;
  #h = FIRST_STEP;
  #hasHistory = false;

  constructor(system: TimeSystem, state: Float64Array, options: IntegratorOptions) {
    this.system = system;
    this.#options = options;
    this.#filter = new StiffFilter(system);
    this.#formula = new Collocation(system, state, options.drive);
    this.now = timePoint(system, state);
    const spare = () => timePoint(system, state);
    this.#spare = [spare(), spare(), spare(), spare()];
    this.points = [this.now];
    this.#formula.evaluate(this.now);
    this.#control = new StepControl(system, options.tolerance, this.now);
  }

  /**
   * Takes what has jumped into account: charges stay, everything else follows at once. Returns false if no
   * such state is found.
   */
  restart(): boolean {
    const { seconds } = this.now;
    this.#h = FIRST_STEP;
    if (!this.#damp(JUMP)) return false;
    this.now.seconds = seconds;
    this.#formula.evaluate(this.now);
    return true;
  }

  /** Two steps of implicit Euler; what came before is forgotten. */
  #damp(h: number): boolean {
    const { end } = this.#formula;
    for (let step = 0; step < 2; step++) {
      copyPoint(this.now, end);
      if (!this.#formula.euler(this.now, h)) return false;
      copyPoint(end, this.now);
    }
    this.#hasHistory = false;
    this.points = [this.now];
    return true;
  }

  /** One accepted step, at most to `until`. Returns false if no step, however short, succeeds. */
  advance(until: number): boolean {
    for (;;) {
      const left = until - this.now.seconds;
      // no sliver is left over for a last step of its own
      const wanted = Math.min(this.#h, this.#options.longest);
      const h = left <= wanted * 1.001 ? left : left < 2 * wanted ? left / 2 : wanted;
      if (!(h > SHORTEST)) return false;
      this.#guess(h);
      const solved = this.#formula.step(this.now, h);
      this.counts.iterations = this.#formula.iterations;
      if (!solved) {
        this.#reject(h / 4);
        continue;
      }
      const before = this.#hasHistory ? [this.#spare[0], this.#spare[1]] : [];
      const error = h > SHORTEST_JUDGED ? this.#control.error(before, this.now, this.#formula) : 0;
      if (!(error <= 1)) {
        this.#reject(Math.max(h * StepControl.growth(error), SHORTEST_JUDGED));
        continue;
      }
      const growth = StepControl.growth(error);
      // a step cut short by `until` says nothing against a longer one
      this.#accept(h === left ? Math.max(this.#h, h * growth) : h * growth);
      if (h === left) this.now.seconds = until;
      return true;
    }
  }

  /** Takes the last step back: the point reached is its start again. */
  retreat(): void {
    const [start, half, old0, old1] = this.#spare;
    copyPoint(start, this.now);
    this.#hasHistory = this.points.length > 3;
    copyPoint(old0, start);
    copyPoint(old1, half);
    this.points = this.#hasHistory ? [start, half, this.now] : [this.now];
  }

  #reject(h: number): void {
    this.counts.rejected++;
    this.#h = h;
  }

  /** Keeps start and middle of this step as history; the end is where we are. */
  #accept(nextStep: number): void {
    const { middle, end } = this.#formula;
    const [start, half, old0, old1] = this.#spare;
    const hadHistory = this.#hasHistory;
    if (hadHistory) {
      copyPoint(start, old0);
      copyPoint(half, old1);
    }
    copyPoint(this.now, start);
    copyPoint(middle, half);
    copyPoint(end, this.now);
    this.points = [...(hadHistory ? [old0, old1] : []), start, half, this.now];
    this.#hasHistory = true;
    this.#control.observe(half);
    this.#control.observe(this.now);
    this.#h = nextStep;
    this.counts.steps++;
    if (this.counts.steps % FILTERED === 0)
      this.#filter.apply(this.now, Math.min(nextStep, this.#options.longest));
  }

  /** First guesses for middle and end: the last step's curve carried on, or no change. */
  #guess(h: number): void {
    const { middle, end } = this.#formula;
    copyPoint(this.now, middle);
    copyPoint(this.now, end);
    if (!this.#hasHistory) return;
    const [start, half] = this.#spare;
    if (h > 4 * (this.now.seconds - start.seconds)) return;
    const points =
      h > 1.5 * (this.now.seconds - start.seconds) ? [start, half, this.now] : this.points.slice(-4);
    for (const [point, at] of [
      [middle, this.now.seconds + h / 2],
      [end, this.now.seconds + h],
    ] as const) {
      const weights = weightsAt(points, at);
      for (let k = 0; k < this.system.size; k++) point.state[k] = valueAt(points, weights, k);
    }
  }
}
