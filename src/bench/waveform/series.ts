import type { History } from "./history.ts";

/** Points used for one value in between: fifth degree. */
const POINTS = 6;

/** Least and greatest of values, of which there may be more than a call takes arguments. */
export function rangeOf(values: Float64Array): readonly [least: number, greatest: number] {
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < least) least = value;
    if (value > greatest) greatest = value;
  }
  return [least, greatest];
}

/** One trace over the solver's points, read as a smooth curve. */
export class Series {
  readonly seconds: Float64Array;
  readonly values: Float64Array;

  constructor({ seconds, values, length }: History, trace: number) {
    this.seconds = seconds.subarray(0, length);
    this.values = values[trace]!.subarray(0, length);
  }

  get length(): number {
    return this.seconds.length;
  }

  get start(): number {
    return this.seconds[0] ?? 0;
  }

  get end(): number {
    return this.seconds.at(-1) ?? 0;
  }

  /** Index of the first point at or after a time. */
  from(seconds: number): number {
    let [low, high] = [0, this.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.seconds[middle]! < seconds) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** The value at a time, by the polynomial through the nearest points. */
  at(seconds: number): number {
    const first = Math.max(0, Math.min(this.length - POINTS, this.from(seconds) - POINTS / 2));
    const last = Math.min(this.length, first + POINTS);
    let sum = 0;
    for (let k = first; k < last; k++) {
      let weight = 1;
      for (let m = first; m < last; m++) {
        if (m === k) continue;
        // two points at one moment: before and after an event
        const between = this.seconds[k]! - this.seconds[m]!;
        if (between === 0) return this.values[this.from(seconds)] ?? this.values.at(-1)!;
        weight *= (seconds - this.seconds[m]!) / between;
      }
      sum += weight * this.values[k]!;
    }
    return sum;
  }

  /** Least and greatest value from one point to before another. */
  range(first = 0, end = this.length): readonly [least: number, greatest: number] {
    return rangeOf(this.values.subarray(first, end));
  }

  /** Times at which it rises through a level, from a point on; it must have been `below` before. */
  rises(level: number, below: number, first: number): number[] {
    const times: number[] = [];
    let armed = false;
    for (let k = first; k < this.length; k++) {
      const value = this.values[k]!;
      if (value < below) armed = true;
      if (!armed || value < level) continue;
      armed = false;
      if (k > 0) times.push(this.#crossing(k, level));
    }
    return times;
  }

  /** Where it rises through `level` between point k − 1 and k, by bisection. */
  #crossing(k: number, level: number): number {
    let [early, late] = [this.seconds[k - 1]!, this.seconds[k]!];
    for (let halving = 0; halving < 40; halving++) {
      const middle = (early + late) / 2;
      if (this.at(middle) < level) early = middle;
      else late = middle;
    }
    return late;
  }
}
