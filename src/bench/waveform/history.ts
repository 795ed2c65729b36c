/** The first points are kept as well: how it began is read off them. This share of the most. */
const KEPT = 0.25;

/** Values of traces at points in time. Beyond so many the middle is forgotten: beginning and end remain. */
export class History {
  seconds: Float64Array;
  values: Float64Array[];
  length = 0;
  /** Index of the first point after what has been forgotten, if anything has. */
  gap: number | undefined;
  readonly #most: number;

  constructor(traces: number, most: number, first = 1024) {
    this.#most = most;
    this.seconds = new Float64Array(Math.min(first, most));
    this.values = Array.from({ length: traces }, () => new Float64Array(Math.min(first, most)));
  }

  /** Makes room for one point more. */
  next(seconds: number): number {
    if (this.length >= this.#most) this.#forget();
    else if (this.length === this.seconds.length) this.#grow();
    this.seconds[this.length] = seconds;
    return this.length++;
  }

  #grow(): void {
    const size = Math.min(this.#most, 2 * this.length);
    const grown = (old: Float64Array) => {
      const fresh = new Float64Array(size);
      fresh.set(old);
      return fresh;
    };
    this.seconds = grown(this.seconds);
    this.values = this.values.map(grown);
  }

  #forget(): void {
    const kept = Math.floor(KEPT * this.length);
    const from = (kept + this.length) >> 1;
    for (const list of [this.seconds, ...this.values]) list.copyWithin(kept, from);
    this.length -= from - kept;
    this.gap = kept;
  }
}
