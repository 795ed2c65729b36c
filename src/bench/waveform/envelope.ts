/** A turn counts once the value has come back by this share of all that it travels. */
const TURN = 0.1;
/** Traces that go beyond their values written down by this share of their travel are not shown by these alone. */
const MISSED = 0.05;
/** Travel below this is rounding, V or A or rpm. */
const NOTHING = 1e-9;

/** What a trace does between the values written down: its extremes since the value before. */
export class Envelope {
  readonly least: Float64Array;
  readonly greatest: Float64Array;
  /** Of the whole run. */
  readonly extremes: [least: number, greatest: number] = [Infinity, -Infinity];
  #low = Infinity;
  #high = -Infinity;
  #written: number | undefined;
  #missed = 0;
  /** Turns from rising to falling or back before each value written down. */
  readonly #turns: Uint32Array;
  #turned = 0;
  #count = 0;
  /** The last extreme, and whether it rises since. */
  #extreme = Number.NaN;
  #rising = true;

  constructor(count: number) {
    this.least = new Float64Array(count);
    this.greatest = new Float64Array(count);
    this.#turns = new Uint32Array(count);
  }

  /** Of the whole run: from the least to the greatest value. */
  get travel(): number {
    return this.extremes[1] - this.extremes[0];
  }

  /** Turns between two values, where there are most. */
  get mostTurns(): number {
    const worth = TURN * this.travel;
    let most = 0;
    for (let k = 0; k < this.#count; k++)
      if (this.greatest[k]! - this.least[k]! > worth) most = Math.max(most, this.#turns[k]!);
    return most;
  }

  /** Whether the values written down alone would mislead. */
  get isCoarse(): boolean {
    return this.travel > NOTHING && (this.#missed > MISSED * this.travel || this.mostTurns > 1);
  }

  /** A value that has been computed. */
  take(value: number): void {
    this.#low = Math.min(this.#low, value);
    this.#high = Math.max(this.#high, value);
    this.extremes[0] = Math.min(this.extremes[0], value);
    this.extremes[1] = Math.max(this.extremes[1], value);
    this.#turn(value);
  }

  #turn(value: number): void {
    const back = this.#rising ? this.#extreme - value : value - this.#extreme;
    // a first value is compared with nothing
    if (!(back > 0)) this.#extreme = value;
    else if (back > TURN * this.travel) {
      this.#turned++;
      this.#rising = !this.#rising;
      this.#extreme = value;
    }
  }

  /** A value that is written down: between it and the one before lie the extremes. */
  write(place: number, value: number): void {
    const before = this.#written ?? value;
    const [low, high] = [Math.min(value, before), Math.max(value, before)];
    this.#missed = Math.max(this.#missed, low - this.#low, this.#high - high);
    this.#turns[place] = this.#turned;
    this.#count = place + 1;
    this.least[place] = Math.min(low, this.#low);
    this.greatest[place] = Math.max(high, this.#high);
    [this.#low, this.#high, this.#turned, this.#written] = [Infinity, -Infinity, 0, value];
  }
}
