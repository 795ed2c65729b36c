/**
 * Items 0 … n − 1 kept in doubly linked lists by a count, so that the least counts are found and
 * changed in constant time.
 */
export class Buckets {
  /** First item of each count, −1 if none. */
  readonly head: Int32Array;
  /** Next item of the same count, −1 at the end. */
  readonly next: Int32Array;
  readonly #previous: Int32Array;
  readonly #count: Int32Array;

  constructor(items: number, largestCount: number) {
    this.head = new Int32Array(largestCount + 1).fill(-1);
    this.next = new Int32Array(items).fill(-1);
    this.#previous = new Int32Array(items).fill(-1);
    this.#count = new Int32Array(items).fill(-1);
  }

  /** Puts `item` under `count`, taking it out of where it was. */
  put(item: number, count: number): void {
    if (this.#count[item] === count) return;
    this.remove(item);
    const first = this.head[count];
    this.next[item] = first;
    if (first >= 0) this.#previous[first] = item;
    this.head[count] = item;
    this.#count[item] = count;
  }

  remove(item: number): void {
    const count = this.#count[item];
    if (count < 0) return;
    const before = this.#previous[item];
    const after = this.next[item];
    if (before >= 0) this.next[before] = after;
    else this.head[count] = after;
    if (after >= 0) this.#previous[after] = before;
    this.next[item] = -1;
    this.#previous[item] = -1;
    this.#count[item] = -1;
  }
}
