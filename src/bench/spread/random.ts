/** 32-bit mixer of MurmurHash3 (Appleby, public domain): turns a counter into bits that look unrelated. */
function mixed(counter: number): number {
  let x = counter >>> 0;
  x = Math.imul(x ^ (x >>> 16), 0x85ebca6b);
  x = Math.imul(x ^ (x >>> 13), 0xc2b2ae35);
  return (x ^ (x >>> 16)) >>> 0;
}

/** 2³² divided by the golden ratio: the step of the counter that the state is filled from. */
const GOLDEN = 0x9e3779b9;

const rotated = (x: number, by: number): number => (x << by) | (x >>> (32 - by));

/**
 * Random numbers by xoshiro128** 1.1: D. Blackman and S. Vigna, "Scrambled linear pseudorandom number
 * generators", ACM Transactions on Mathematical Software 47 (2021). Whole-number arithmetic only, so that a
 * seed gives the same numbers on every machine.
 */
export class Random {
  readonly #state: Uint32Array;

  /** From four words of state, not all 0. */
  constructor(state: readonly [number, number, number, number]) {
    this.#state = Uint32Array.from(state);
  }

  /** From a seed, a whole number of 32 bits. */
  static seeded(seed: number): Random {
    const word = (k: number) => mixed(seed + Math.imul(k, GOLDEN));
    return new Random([word(1), word(2), word(3), word(4)]);
  }

  /** The next 32 bits. */
  bits(): number {
    const s = this.#state;
    const result = Math.imul(rotated(Math.imul(s[1]!, 5), 7), 9) >>> 0;
    const shifted = s[1]! << 9;
    s[2]! ^= s[0]!;
    s[3]! ^= s[1]!;
    s[1]! ^= s[2]!;
    s[0]! ^= s[3]!;
    s[2]! ^= shifted;
    s[3] = rotated(s[3]!, 11);
    return result;
  }

  /** Evenly distributed between −1 and 1, neither included; exact in binary. */
  even(): number {
    return (this.bits() + 0.5) / 2 ** 31 - 1;
  }
}
