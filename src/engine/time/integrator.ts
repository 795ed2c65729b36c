import { Collocation, copyPoint, type Drive, type TimePoint, timePoint } from "./collocation.ts";
import { weighAt } from "./interpolation.ts";
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
const LONGEST_JUMP = 1e-8;
const FIRST_STEP = 2e-9;
/** Every so many steps what is much faster than the step is filtered out; more seldom while there is nothing. */
const FILTERED = 4;
const FILTERED_AT_REST = 10;
const SHORTEST = 1e-15;
/** If not even so short a step succeeds, s, shorter ones alone will not help. */
const HOPELESS = 1e-11;
/** Nothing in an audio circuit is faster than this, s: where shorter steps differ, it is by rounding. */
const SHORTEST_JUDGED = 1e-10;
/** Longer steps than this, s, are given up early: one or two shorter ones cost less than a long search. */
const PATIENT_UP_TO = 1e-9;
/** A step may be so much longer than wanted. */
const ROUNDED_UP = 1.001;
/** Points of the last steps that the next one is guessed by. */
const GUESSED_BY = 4;

/**
 * Integrates a circuit from state to state, one accepted step at a time. `advance` never goes past the time
 * given; `restart` begins anew after sources, switches or values have jumped.
 */
export class Integrator {
  readonly system: TimeSystem;
  readonly counts: IntegratorCounts = { steps: 0, rejected: 0, iterations: 0 };
  /** Points of the last one or two steps, oldest first: start, middle, end each; the last is where we are. */
  points: TimePoint[];
  readonly #options: IntegratorOptions;
  readonly #formula: Collocation;
  readonly #filter: StiffFilter;
  readonly #control: StepControl;
  /** Points to be used again. */
  readonly #spare: TimePoint[];
  #h = FIRST_STEP;
  /** Steps until the filter is due. */
  #unfiltered = FILTERED;
  /** Steps of Euler by which the point reached would be brought to rest, s: longer where shorter did not help. */
  #settling = JUMP;

  constructor(system: TimeSystem, state: Float64Array, options: IntegratorOptions) {
    this.system = system;
    this.#options = options;
    this.#filter = new StiffFilter(system);
    this.#formula = new Collocation(system, state, options.drive);
    this.#spare = Array.from({ length: 6 }, () => timePoint(system, state));
    this.points = [timePoint(system, state)];
    this.#formula.evaluate(this.now);
    this.#control = new StepControl(system, options.tolerance, this.now);
  }

  /** Whether nothing determined some unknown when a step last failed. */
  get undetermined(): boolean {
    return this.#formula.undetermined;
  }

  /** The point reached. */
  get now(): TimePoint {
    return this.points[this.points.length - 1]!;
  }

  /**
   * Takes what has jumped into account: charges stay, everything else follows at once. Returns false if no
   * such state is found.
   */
  restart(): boolean {
    const { seconds } = this.now;
    if (!this.#begin(JUMP)) return false;
    this.now.seconds = seconds;
    this.#formula.evaluate(this.now);
    return true;
  }

  /** Begins anew with steps of Euler of this length. */
  #begin(h: number): boolean {
    this.#h = FIRST_STEP;
    this.#unfiltered = FILTERED;
    this.#control.restart();
    return this.#damp(h);
  }

  /** Two steps of implicit Euler; what came before is forgotten. */
  #damp(h: number): boolean {
    const { end } = this.#formula;
    for (let step = 0; step < 2; step++) {
      copyPoint(this.now, end);
      if (!this.#formula.euler(this.now, h)) return false;
      copyPoint(end, this.now);
    }
    this.#forget(this.points.length - 1);
    return true;
  }

  /** Takes the oldest points out of use. */
  #forget(count: number): void {
    this.#spare.push(...this.points.splice(0, count));
  }

  /** One accepted step, at most to `until`. Returns false if no step, however short, succeeds. */
  advance(until: number): boolean {
    for (;;) {
      const left = until - this.now.seconds;
      // no sliver is left over for a last step of its own
      const wanted = Math.min(this.#h, this.#options.longest);
      const h = left <= wanted * ROUNDED_UP ? left : left < 2 * wanted ? left / 2 : wanted;
      if (!(h > SHORTEST)) return false;
      this.#guess(h);
      const solved = this.#formula.step(this.now, h, h <= PATIENT_UP_TO);
      this.counts.iterations = this.#formula.iterations;
      if (!solved) {
        this.#reject(h / 4);
        if (this.#h < HOPELESS && !this.#settle(left)) return false;
        continue;
      }
      const error = h > ROUNDED_UP * SHORTEST_JUDGED ? this.#control.error(this.points, this.#formula) : 0;
      if (!(error <= 1)) {
        const shorter = h * StepControl.growth(error);
        this.#reject(Math.max(shorter, SHORTEST_JUDGED));
        if (shorter < SHORTEST_JUDGED && this.#settling < SHORTEST_JUDGED) this.#settle(left);
        continue;
      }
      const growth = this.#control.accepted(h, error);
      // a step cut short by `until` says nothing against a longer one
      this.#accept(h === left ? Math.max(this.#h, h * growth) : h * growth);
      if (h === left) this.now.seconds = until;
      return true;
    }
  }

  /**
   * What the formula carries along undamped can keep Newton from every step however short, where a charge has vanished
   * under it, and can look like an error that no shorter step makes smaller: two steps of Euler, within the time
   * `left`, leave charges and fluxes nearly alone and bring all else to rest. A current that has nowhere left to go,
   * as in a stage cut off, ends in longer ones.
   */
  #settle(left: number): boolean {
    const h = this.#settling;
    if (h > LONGEST_JUMP || 2 * h >= left) return false;
    const { seconds } = this.now;
    const begun = this.now.state.slice();
    this.#settling = 10 * h;
    const found = this.#begin(h);
    this.now.seconds = found ? seconds + 2 * h : seconds;
    if (!found) this.now.state.set(begun);
    this.#formula.evaluate(this.now);
    return found || this.#settle(left);
  }

  /** Takes the last step back: the point reached is its start again. */
  retreat(): void {
    this.#spare.push(...this.points.splice(-2, 2));
    this.#control.restart();
  }

  #reject(h: number): void {
    this.counts.rejected++;
    this.#h = h;
  }

  /** Keeps start and middle of this step as history; the end is where we are. */
  #accept(nextStep: number): void {
    const { middle, end } = this.#formula;
    const { points } = this;
    while (points.length > 3) this.#spare.push(points.shift()!);
    points.push(middle, end);
    this.#formula.middle = this.#spare.pop()!;
    this.#formula.end = this.#spare.pop()!;
    this.#control.observe(middle);
    this.#control.observe(end);
    this.#h = nextStep;
    this.#settling = JUMP;
    this.counts.steps++;
    if (--this.#unfiltered > 0) return;
    const found = this.#filter.apply(
      this.points.at(-3)!,
      middle,
      end,
      Math.min(nextStep, this.#options.longest),
    );
    this.#unfiltered = found ? FILTERED : FILTERED_AT_REST;
  }

  /** First guesses for middle and end: the last step's curve carried on, or no change. */
  #guess(h: number): void {
    const { seconds } = this.now;
    const last = this.points.length > 1 ? seconds - this.points.at(-3)!.seconds : 0;
    const count = h > 4 * last ? 1 : h > 1.5 * last ? 3 : GUESSED_BY;
    const points = this.points.slice(-count);
    const { memory, work } = this.system.pair;
    memory.guessWeights.fill(0);
    weighAt(points, seconds + h / 2, memory.guessWeights, 0);
    weighAt(points, seconds + h, memory.guessWeights, 1);
    const [a, b, c, d] = points;
    const none = a!.index;
    work.guess(none, b?.index ?? none, c?.index ?? none, d?.index ?? none);
  }
}
