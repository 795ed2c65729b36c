/**
 * A writer of WebAssembly, as much of it as straight-line arithmetic on doubles and pairs of them needs.
 * Source of the encodings: WebAssembly Core Specification 2.0 (W3C), binary format and vector instructions.
 */
export class MachineCode {
  readonly bytes: number[] = [];

  /** Unsigned number in the format's variable length. */
  unsigned(value: number): this {
    let rest = value;
    do {
      const low = rest & 0x7f;
      rest >>>= 7;
      this.bytes.push(rest === 0 ? low : low | 0x80);
    } while (rest !== 0);
    return this;
  }

  #op(code: number): this {
    this.bytes.push(code);
    return this;
  }

  #vector(code: number): this {
    this.bytes.push(0xfd);
    return this.unsigned(code);
  }

  /** A load or store at a fixed address: base 0, all of it in the offset. */
  #at(vectorCode: number, alignment: number, address: number): this {
    return this.#vector(vectorCode).unsigned(alignment).unsigned(address);
  }

  get(local: number): this {
    return this.#op(0x20).unsigned(local);
  }

  set(local: number): this {
    return this.#op(0x21).unsigned(local);
  }

  /** Pushes the base of all addresses. */
  base(): this {
    return this.#op(0x41).#op(0x00);
  }

  /** Pushes the pair at `address`. */
  loadPair(address: number): this {
    return this.base().#at(0x00, 4, address);
  }

  /** Pushes the double at `address` as both halves of a pair. */
  loadTwice(address: number): this {
    return this.base().#at(0x0a, 3, address);
  }

  /** Stores the pair on the stack; `base()` must have been pushed before it. */
  storePair(address: number): this {
    return this.#at(0x0b, 4, address);
  }

  constantPair(first: number, second: number): this {
    this.#vector(0x0c);
    this.bytes.push(...new Uint8Array(Float64Array.of(first, second).buffer));
    return this;
  }

  both(): this {
    return this.#vector(0x14);
  }

  replaceHalf(which: 0 | 1): this {
    return this.#vector(0x22).#op(which);
  }

  absPair = (): this => this.#vector(0xec);
  addPair = (): this => this.#vector(0xf0);
  subPair = (): this => this.#vector(0xf1);
  mulPair = (): this => this.#vector(0xf2);
  divPair = (): this => this.#vector(0xf3);
  /** All bits set in each half where the first is greater than the second, none elsewhere. */
  greaterPair = (): this => this.#vector(0x4a);
  /** Bits set in both pairs. */
  bothBits = (): this => this.#vector(0x4e);
  /** Whether each half has a bit set, as an integer, and an integer as a double. */
  allTrue = (): this => this.#vector(0xc3);
  toDouble = (): this => this.#op(0xb7);

  /** Pushes an integer below 64. */
  integer(value: number): this {
    return this.#op(0x41).#op(value);
  }

  double(value: number): this {
    this.#op(0x44).bytes.push(...new Uint8Array(Float64Array.of(value).buffer));
    return this;
  }

  loadDouble(address: number): this {
    return this.base().#op(0x2b).unsigned(3).unsigned(address);
  }

  /** Stores the double on the stack; `base()` must have been pushed before it. */
  storeDouble(address: number): this {
    return this.#op(0x39).unsigned(3).unsigned(address);
  }

  abs = (): this => this.#op(0x99);
  add = (): this => this.#op(0xa0);
  sub = (): this => this.#op(0xa1);
  mul = (): this => this.#op(0xa2);
  div = (): this => this.#op(0xa3);
  /** Whether the first is greater than the second, as an integer. */
  greater = (): this => this.#op(0x64);
  and = (): this => this.#op(0x71);
}

const DOUBLE = 0x7c;
const PAIR = 0x7b;
const INTEGER = 0x7f;

/** One function of doubles. */
export interface CodedFunction {
  readonly name: string;
  readonly takesDoubles: number;
  readonly givesDouble: boolean;
  /** Locals after the parameters: so many doubles, then so many pairs, then so many integers. */
  readonly doubles?: number;
  readonly pairs: number;
  readonly integers?: number;
  readonly code: MachineCode;
}

const section = (id: number, content: number[]): number[] => [
  id,
  ...new MachineCode().unsigned(content.length).bytes,
  ...content,
];

const text = (word: string): number[] => [word.length, ...[...word].map((letter) => letter.charCodeAt(0))];

/** A whole module whose functions work on an imported memory, `host.memory`. */
export function assemble(functions: readonly CodedFunction[], pages: number): Uint8Array<ArrayBuffer> {
  const count = functions.length;
  const types = functions.flatMap(({ takesDoubles, givesDouble }) => [
    0x60,
    takesDoubles,
    ...new Array<number>(takesDoubles).fill(DOUBLE),
    ...(givesDouble ? [1, DOUBLE] : [0]),
  ]);
  const memory = [1, ...text("host"), ...text("memory"), 2, 0, ...new MachineCode().unsigned(pages).bytes];
  const exports = functions.flatMap(({ name }, k) => [...text(name), 0, k]);
  const header = [0x00, 0x61, 0x73, 0x6d, 1, 0, 0, 0];
  const bodies = functions.map(bodyOf);
  const codeSize = bodies.reduce((sum, body) => sum + body.length, 0);
  const before = [
    ...header,
    ...section(1, [count, ...types]),
    ...section(2, memory),
    ...section(3, [count, ...functions.map((_, k) => k)]),
    ...section(7, [count, ...exports]),
    10,
    ...new MachineCode().unsigned(codeSize + 1).bytes,
    count,
  ];
  const bytes = new Uint8Array(before.length + codeSize);
  bytes.set(before);
  let at = before.length;
  for (const body of bodies) {
    bytes.set(body, at);
    at += body.length;
  }
  return bytes;
}

function bodyOf({ doubles = 0, pairs, integers = 0, code }: CodedFunction): Uint8Array {
  const locals = new MachineCode();
  locals.unsigned(3).unsigned(doubles).bytes.push(DOUBLE);
  locals.unsigned(pairs).bytes.push(PAIR);
  locals.unsigned(integers).bytes.push(INTEGER);
  const size = new MachineCode().unsigned(locals.bytes.length + code.bytes.length + 1).bytes;
  return concatenate([size, locals.bytes, code.bytes, [0x0b]]);
}

function concatenate(parts: readonly number[][]): Uint8Array {
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
