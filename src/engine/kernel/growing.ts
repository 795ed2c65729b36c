const FIRST = 16;

/** A list of integers or doubles that grows at its end, without a box around any. */
class Growing<Numbers extends Int32Array | Float64Array> {
  length = 0;
  #numbers: Numbers;
  readonly #make: (length: number) => Numbers;

  constructor(make: (length: number) => Numbers) {
    this.#make = make;
    this.#numbers = make(FIRST);
  }

  at(k: number): number {
    return this.#numbers[k];
  }

  /** Returns the place of the number. */
  push(number: number): number {
    if (this.length === this.#numbers.length) {
      const larger = this.#make(2 * this.length);
      larger.set(this.#numbers);
      this.#numbers = larger;
    }
    this.#numbers[this.length] = number;
    return this.length++;
  }

  /** The numbers up to now, in an array of their own. */
  finish(): Numbers {
    return this.#numbers.slice(0, this.length) as Numbers;
  }
}

export type GrowingIntegers = Growing<Int32Array>;
export type GrowingDoubles = Growing<Float64Array>;

export const growingIntegers = (): GrowingIntegers => new Growing((length) => new Int32Array(length));
export const growingDoubles = (): GrowingDoubles => new Growing((length) => new Float64Array(length));
