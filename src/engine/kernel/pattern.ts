import { growingIntegers } from "./growing.ts";

/**
 * Which entries of a square matrix are not zero. Each entry has a slot, numbered in order of its first
 * mention; the values live outside, in arrays indexed by slot.
 */
export interface Pattern {
  readonly size: number;
  /** Row and column of each slot. */
  readonly row: Int32Array;
  readonly column: Int32Array;
}

/** Rows with more entries than this are searched by a table of their own. */
const LONG = 16;

/** Collects entries; mentioning one twice gives the same slot. */
export class PatternBuilder {
  readonly size: number;
  readonly #row = growingIntegers();
  readonly #column = growingIntegers();
  /** Slots of each row as a chain, latest first. */
  readonly #latest: Int32Array;
  readonly #before = growingIntegers();
  readonly #count: Int32Array;
  /** Slots by column, of long rows. */
  readonly #long = new Map<number, Map<number, number>>();

  constructor(size: number) {
    this.size = size;
    this.#latest = new Int32Array(size).fill(-1);
    this.#count = new Int32Array(size);
  }

  slot(row: number, column: number): number {
    const found = this.#count[row] > LONG ? this.#inLong(row, column) : this.#inChain(row, column);
    return found >= 0 ? found : this.#add(row, column);
  }

  #inChain(row: number, column: number): number {
    let slot = this.#latest[row];
    while (slot >= 0 && this.#column.at(slot) !== column) slot = this.#before.at(slot);
    return slot;
  }

  #inLong(row: number, column: number): number {
    return this.#long.get(row)?.get(column) ?? -1;
  }

  #add(row: number, column: number): number {
    const slot = this.#row.push(row);
    this.#column.push(column);
    this.#before.push(this.#latest[row]);
    this.#latest[row] = slot;
    if (++this.#count[row] > LONG) this.#enter(row);
    return slot;
  }

  /** Enters into a long row's table what is not in it yet. */
  #enter(row: number): void {
    let table = this.#long.get(row);
    const whole = table === undefined;
    table ??= new Map();
    this.#long.set(row, table);
    let slot = this.#latest[row];
    do {
      table.set(this.#column.at(slot), slot);
      slot = this.#before.at(slot);
    } while (whole && slot >= 0);
  }

  finish(): Pattern {
    return { size: this.size, row: this.#row.finish(), column: this.#column.finish() };
  }
}
