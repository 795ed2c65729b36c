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

/** Collects entries; mentioning one twice gives the same slot. */
export class PatternBuilder {
  readonly size: number;
  readonly #row: number[] = [];
  readonly #column: number[] = [];
  readonly #slots = new Map<number, number>();

  constructor(size: number) {
    this.size = size;
  }

  slot(row: number, column: number): number {
    const key = row * this.size + column;
    let slot = this.#slots.get(key);
    if (slot === undefined) {
      slot = this.#row.length;
      this.#slots.set(key, slot);
      this.#row.push(row);
      this.#column.push(column);
    }
    return slot;
  }

  finish(): Pattern {
    return { size: this.size, row: Int32Array.from(this.#row), column: Int32Array.from(this.#column) };
  }
}
