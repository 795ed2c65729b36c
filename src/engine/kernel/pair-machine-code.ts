import { MachineCode } from "./machine-code.ts";

/** Instructions on the two halves of a pair, and the larger of two. */
export class PairMachineCode extends MachineCode {
  #vector(code: number): this {
    this.bytes.push(0xfd);
    return this.unsigned(code);
  }

  /** Pushes one half of a pair as a double. */
  half(which: 0 | 1): this {
    this.#vector(0x21).bytes.push(which);
    return this;
  }

  /** Replaces a pair by one of its halves, twice. */
  halfTwice(which: 0 | 1): this {
    return this.half(which).both();
  }

  /** The larger of two, or no number if either is none. */
  maxPair = (): this => this.#vector(0xf5);
  /** The second where it is larger, else the first: one instruction, but for no-numbers. */
  largerPair = (): this => this.#vector(0xf7);

  #single(...codes: number[]): this {
    this.bytes.push(...codes);
    return this;
  }

  /** The same on single doubles. */
  max = (): this => this.#single(0xa5);
  plus = (): this => this.#single(0xa0);
  minus = (): this => this.#single(0xa1);
  times = (): this => this.#single(0xa2);

  loadSingle(address: number): this {
    return this.base().#single(0x2b, 3).unsigned(address);
  }

  /** Stores the double on the stack; `base()` must have been pushed before it. */
  storeSingle(address: number): this {
    return this.#single(0x39, 3).unsigned(address);
  }

  /** A double that is a whole number, as an address. */
  toAddress = (): this => this.#single(0xab);

  /** Pushes the pair, or the double twice, at the address in a local plus a constant one. */
  loadPairFrom(local: number, address: number): this {
    return this.get(local).#vector(0x00).unsigned(3).unsigned(address);
  }

  loadTwiceFrom(local: number, address: number): this {
    return this.get(local).#vector(0x0a).unsigned(3).unsigned(address);
  }

  /** Stores one half of the pair on the stack at the address before it plus a constant one. */
  storeHalf(which: 0 | 1, address: number): this {
    this.#vector(0x5b).unsigned(3).unsigned(address).bytes.push(which);
    return this;
  }
}
