import { MachineCode } from "./machine-code.ts";

const SWAP = [8, 9, 10, 11, 12, 13, 14, 15, 0, 1, 2, 3, 4, 5, 6, 7];
const FIRST_TWICE = [0, 1, 2, 3, 4, 5, 6, 7, 0, 1, 2, 3, 4, 5, 6, 7];
const SECOND_TWICE = [8, 9, 10, 11, 12, 13, 14, 15, 8, 9, 10, 11, 12, 13, 14, 15];

/** Loops, integers, and loads and stores at an address on the stack plus a constant one. */
export class LoopMachineCode extends MachineCode {
  #bytes(...codes: number[]): this {
    this.bytes.push(...codes);
    return this;
  }

  /** Repeats `body` while what `condition` pushes is true. */
  while(condition: () => void, body: () => void): this {
    this.#bytes(0x02, 0x40, 0x03, 0x40);
    condition();
    this.#bytes(0x45, 0x0d, 0x01);
    body();
    return this.#bytes(0x0c, 0x00, 0x0b, 0x0b);
  }

  /** Pushes an integer of any size (the format's signed variable length). */
  whole(value: number): this {
    this.#bytes(0x41);
    let rest = value;
    for (;;) {
      const low = rest & 0x7f;
      rest >>= 7;
      if ((rest === 0 && (low & 0x40) === 0) || (rest === -1 && (low & 0x40) !== 0)) return this.#bytes(low);
      this.#bytes(low | 0x80);
    }
  }

  plusWhole = (value: number): this => this.whole(value).#bytes(0x6a);
  shiftLeft = (bits: number): this => this.whole(bits).#bytes(0x74);
  shiftRight = (bits: number): this => this.whole(bits).#bytes(0x76);
  /** Whether the first of two integers is less than the second, as addresses are. */
  less = (): this => this.#bytes(0x49);

  wholeAt = (address: number): this => this.#bytes(0x28, 2).unsigned(address);
  doubleAt = (address: number): this => this.#bytes(0x2b, 3).unsigned(address);
  putDoubleAt = (address: number): this => this.#bytes(0x39, 3).unsigned(address);
  pairAt = (address: number): this => this.#bytes(0xfd, 0x00, 4).unsigned(address);
  putPairAt = (address: number): this => this.#bytes(0xfd, 0x0b, 4).unsigned(address);

  #shuffled(order: readonly number[]): this {
    return this.#bytes(0xfd, 0x0d, ...order);
  }

  /** Needs the pair on the stack twice. */
  swapped = (): this => this.#shuffled(SWAP);
  firstTwice = (): this => this.#shuffled(FIRST_TWICE);
  secondTwice = (): this => this.#shuffled(SECOND_TWICE);
}
