import type { Circuit, Part } from "../circuit/circuit.ts";
import { kindOf } from "../parts/index.ts";
import type { PartKind, Stamp, Surroundings } from "../parts/kind.ts";
import {
  type GrowingDoubles,
  type GrowingIntegers,
  growingDoubles,
  growingIntegers,
} from "./kernel/growing.ts";
import type { Unknowns } from "./unknowns.ts";

/** Entries that the parts write, in the order of the calls; `value` changes with the parts' values. */
export interface Entries {
  /** State numbers (unknown, chassis or fixed temperature). */
  readonly row: Int32Array;
  readonly column: Int32Array;
  readonly value: Float64Array;
  /** Local unknown of the part whose row it is: which pin the current flows into. */
  readonly local: Int32Array;
  /** Entries of part k: `start[k]` … `start[k + 1]` − 1. */
  readonly start: Int32Array;
}

/** The linear equations of all parts: G, C, supplies and where signals enter. */
export interface Stamps {
  readonly g: Entries;
  readonly c: Entries;
  readonly supply: Entries;
  readonly signal: Entries;
}

/** Entries being written. */
interface Written {
  readonly row: GrowingIntegers;
  readonly column: GrowingIntegers;
  readonly value: GrowingDoubles;
  readonly local: GrowingIntegers;
  readonly start: GrowingIntegers;
}

type Writing = Record<keyof Stamps, Written>;

const KEYS = ["g", "c", "supply", "signal"] as const;

/** Runs every part's stamp and writes down the calls. */
export function writeStamps(circuit: Circuit, unknowns: Unknowns, surroundings: Surroundings): Stamps {
  const writing: Writing = { g: nothing(), c: nothing(), supply: nothing(), signal: nothing() };
  const writer = new Writer(writing);
  circuit.parts.forEach((part, k) => {
    writer.locals = unknowns.locals[k]!;
    kindOf(part).stamp?.(part, writer, surroundings);
    for (const key of KEYS) writing[key].start.push(writing[key].row.length);
  });
  const finished = (key: keyof Stamps): Entries => ({
    row: writing[key].row.finish(),
    column: writing[key].column.finish(),
    value: writing[key].value.finish(),
    local: writing[key].local.finish(),
    start: writing[key].start.finish(),
  });
  return { g: finished("g"), c: finished("c"), supply: finished("supply"), signal: finished("signal") };
}

function nothing(): Written {
  const written = {
    row: growingIntegers(),
    column: growingIntegers(),
    value: growingDoubles(),
    local: growingIntegers(),
    start: growingIntegers(),
  };
  written.start.push(0);
  return written;
}

/** Takes down the calls of one part after the other. */
class Writer implements Stamp {
  /** Numbers of the part's local unknowns. */
  locals: Int32Array = new Int32Array();
  readonly #writing: Writing;

  constructor(writing: Writing) {
    this.#writing = writing;
  }

  #write(list: Written, row: number, column: number, value: number): void {
    list.row.push(this.locals[row]!);
    list.column.push(column < 0 ? -1 : this.locals[column]!);
    list.value.push(value);
    list.local.push(row);
  }

  g(row: number, column: number, value: number): void {
    this.#write(this.#writing.g, row, column, value);
  }

  c(row: number, column: number, value: number): void {
    this.#write(this.#writing.c, row, column, value);
  }

  supply(row: number, value: number): void {
    this.#write(this.#writing.supply, row, -1, value);
  }

  signal(row: number, value: number): void {
    this.#write(this.#writing.signal, row, -1, value);
  }
}

/** Writes values over those of one part after the other, in the order of their calls. */
export class Rewriter implements Stamp {
  readonly #stamps: Stamps;
  readonly #gValue: Float64Array;
  readonly #cValue: Float64Array;
  #g = 0;
  #c = 0;
  #supply = 0;
  #signal = 0;

  constructor(stamps: Stamps) {
    this.#stamps = stamps;
    this.#gValue = stamps.g.value;
    this.#cValue = stamps.c.value;
  }

  /**
   * Rewrites the values of one part (index into `Circuit.parts`), which has other values in the same
   * structure. Returns false, with the stamps no longer to be used, if the structure is not the same.
   */
  rewrite(part: Part, kind: PartKind, index: number, surroundings: Surroundings): boolean {
    if (kind.stamp === undefined) return true;
    this.#begin(index);
    kind.stamp(part, this, surroundings);
    return this.#ended(index);
  }

  #begin(part: number): void {
    const { g, c, supply, signal } = this.#stamps;
    this.#g = g.start[part]!;
    this.#c = c.start[part]!;
    this.#supply = supply.start[part]!;
    this.#signal = signal.start[part]!;
  }

  /** Whether the part made exactly the calls it made before. */
  #ended(part: number): boolean {
    const { g, c, supply, signal } = this.#stamps;
    return (
      this.#g === g.start[part + 1] &&
      this.#c === c.start[part + 1] &&
      this.#supply === supply.start[part + 1] &&
      this.#signal === signal.start[part + 1]
    );
  }

  g(_row: number, _column: number, value: number): void {
    this.#gValue[this.#g++] = value;
  }

  c(_row: number, _column: number, value: number): void {
    this.#cValue[this.#c++] = value;
  }

  supply(_row: number, value: number): void {
    this.#stamps.supply.value[this.#supply++] = value;
  }

  signal(_row: number, value: number): void {
    this.#stamps.signal.value[this.#signal++] = value;
  }
}

/** Rewrites the values of one part, as `Rewriter` does. */
export const rewriteStamp = (
  stamps: Stamps,
  part: Part,
  index: number,
  surroundings: Surroundings,
): boolean => new Rewriter(stamps).rewrite(part, kindOf(part), index, surroundings);
