import type { MatrixValues } from "./order.ts";
import type { Pattern } from "./pattern.ts";

/** Below this share of the largest entry of its row, in units of the columns, an entry is not a good pivot. */
const STRONG = 1e-3;

/**
 * For each column of a matrix, a row whose entry there can be its pivot: its own where that is strong, else by
 * chains of exchanges (a maximum transversal). Undefined if there is none for some row.
 */
export function pairing(pattern: Pattern, values: MatrixValues): Int32Array | undefined {
  return new Pairing(pattern, values).run();
}

class Pairing {
  readonly #pattern: Pattern;
  readonly #slots: Int32Array;
  readonly #start: Int32Array;
  /** Sizes of the entries by slot, in units of the largest of their row. */
  readonly #share: Float64Array;
  readonly #rowOf: Int32Array;
  readonly #visited: Int32Array;
  readonly #next: Int32Array;

  constructor(pattern: Pattern, { real, imaginary, columnScale }: MatrixValues) {
    const { size, row, column } = pattern;
    this.#pattern = pattern;
    [this.#slots, this.#start] = slotsBy(row, size);
    const largest = new Float64Array(size);
    this.#share = new Float64Array(row.length);
    for (let s = 0; s < row.length; s++) {
      const entry = Math.abs(real[s]) + Math.abs(imaginary === undefined ? 0 : imaginary[s]);
      this.#share[s] = entry * (columnScale === undefined ? 1 : columnScale[column[s]]);
      largest[row[s]] = Math.max(largest[row[s]], this.#share[s]);
    }
    for (let s = 0; s < row.length; s++) this.#share[s] /= largest[row[s]];
    this.#rowOf = new Int32Array(size).fill(-1);
    this.#visited = new Int32Array(size).fill(-1);
    this.#next = new Int32Array(size);
  }

  run(): Int32Array | undefined {
    const { size, row, column } = this.#pattern;
    const paired = new Uint8Array(size);
    for (let s = 0; s < row.length; s++) {
      if (row[s] !== column[s] || !(this.#share[s] >= STRONG)) continue;
      this.#rowOf[row[s]] = row[s];
      paired[row[s]] = 1;
    }
    for (let r = 0; r < size; r++) {
      if (paired[r] === 1) continue;
      if (this.#place(r, STRONG, r)) continue;
      if (!this.#place(r, Number.MIN_VALUE, size + r)) return undefined;
    }
    return this.#rowOf;
  }

  /**
   * Finds a column for a row, by moving other rows to other columns if need be; columns looked at on the way
   * get the mark `search`.
   */
  #place(wanted: number, least: number, search: number): boolean {
    const { column } = this.#pattern;
    const path = [wanted];
    const taken: number[] = [];
    this.#next[wanted] = this.#start[wanted];
    while (path.length > 0) {
      const r = path[path.length - 1];
      const slot = this.#nextSlot(r, search, least);
      if (slot < 0) {
        path.pop();
        taken.pop();
        continue;
      }
      const c = column[slot];
      taken.push(c);
      this.#visited[c] = search;
      const other = this.#rowOf[c];
      if (other < 0) {
        path.forEach((each, k) => {
          this.#rowOf[taken[k]] = each;
        });
        return true;
      }
      path.push(other);
      this.#next[other] = this.#start[other];
    }
    return false;
  }

  /** The next entry of a row that is large enough and whose column has not been looked at; −1 if there is none. */
  #nextSlot(r: number, search: number, least: number): number {
    const { column } = this.#pattern;
    while (this.#next[r] < this.#start[r + 1]) {
      const slot = this.#slots[this.#next[r]++];
      if (this.#share[slot] >= least && this.#visited[column[slot]] !== search) return slot;
    }
    return -1;
  }
}

/** Slots in the order of their rows (or columns), and where each of these begins. */
export function slotsBy(line: Int32Array, size: number): [slots: Int32Array, start: Int32Array] {
  const start = new Int32Array(size + 1);
  for (let s = 0; s < line.length; s++) start[line[s] + 1]++;
  for (let k = 0; k < size; k++) start[k + 1] += start[k];
  const next = start.slice();
  const slots = new Int32Array(line.length);
  for (let s = 0; s < line.length; s++) slots[next[line[s]]++] = s;
  return [slots, start];
}
