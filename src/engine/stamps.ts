import type { Circuit, Part } from "../circuit/circuit.ts";
import { kindOf } from "../parts/index.ts";
import type { PartKind, Stamp, Surroundings } from "../parts/kind.ts";
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

type Writing = Record<
  keyof Stamps,
  { row: number[]; column: number[]; value: number[]; local: number[]; start: number[] }
>;

const KEYS = ["g", "c", "supply", "signal"] as const;

/** Runs every part's stamp and writes down the calls. */
export function writeStamps(circuit: Circuit, unknowns: Unknowns, surroundings: Surroundings): Stamps {
  const lists = () => ({ row: [], column: [], value: [], local: [], start: [0] });
  const writing: Writing = { g: lists(), c: lists(), supply: lists(), signal: lists() };
  circuit.parts.forEach((part, k) => {
    stampPart(part, unknowns.locals[k]!, writing, surroundings);
    for (const key of KEYS) writing[key].start.push(writing[key].row.length);
  });
  const finished = (key: keyof Stamps): Entries => ({
    row: Int32Array.from(writing[key].row),
    column: Int32Array.from(writing[key].column),
    value: Float64Array.from(writing[key].value),
    local: Int32Array.from(writing[key].local),
    start: Int32Array.from(writing[key].start),
  });
  return { g: finished("g"), c: finished("c"), supply: finished("supply"), signal: finished("signal") };
}

function stampPart(part: Part, locals: Int32Array, writing: Writing, surroundings: Surroundings): void {
  const write = (key: keyof Stamps, row: number, column: number, value: number) => {
    const list = writing[key];
    list.row.push(locals[row]!);
    list.column.push(column < 0 ? -1 : locals[column]!);
    list.value.push(value);
    list.local.push(row);
  };
  const stamp: Stamp = {
    g: (row, column, value) => write("g", row, column, value),
    c: (row, column, value) => write("c", row, column, value),
    supply: (row, value) => write("supply", row, -1, value),
    signal: (row, value) => write("signal", row, -1, value),
  };
  kindOf(part).stamp?.(part, stamp, surroundings);
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
