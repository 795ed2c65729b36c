import { Buckets } from "./buckets.ts";

/** Who is joined to whom: neighbours of node k at `start[k]` … `start[k + 1]` − 1, each once, without itself. */
export interface Graph {
  readonly size: number;
  readonly start: Int32Array;
  readonly neighbour: Int32Array;
}

/** Nodes in the order of their elimination; the first `early` were eliminated while the late ones waited. */
export interface DegreeOrder {
  readonly order: Int32Array;
  readonly early: number;
}

const ALIVE = 0;
const ELEMENT = 1;
const GONE = 2;

/** A node with more neighbours than this, and than so many times √n, comes last and is not followed. */
const LEAST_DENSE = 16;
const DENSE = 10;

/**
 * Order of elimination of a symmetric graph by approximate minimum degree, after Amestoy, Davis & Duff (1996):
 * eliminated nodes live on as elements, each the list of nodes that it has joined; nodes with the same
 * neighbours go together. Nodes marked `late` wait until no other has at most `cheap` neighbours.
 */
export function minimumDegree(graph: Graph, late: Uint8Array, cheap: number): DegreeOrder {
  return new QuotientGraph(graph, late).run(cheap);
}

class QuotientGraph {
  readonly #size: number;
  readonly #late: Uint8Array;
  /** By node: its list in the pool, elements first; by element: the nodes it joins. */
  #pool: Int32Array;
  #free = 0;
  readonly #start: Int32Array;
  readonly #elements: Int32Array;
  readonly #length: Int32Array;
  readonly #state: Uint8Array;
  /** How many nodes go together in this one; below 0 while it lies in the element being made, 0 if in another. */
  readonly #weight: Int32Array;
  readonly #degree: Int32Array;
  readonly #buckets: Buckets;
  /** Nodes that go together, as a list from the one that speaks for them. */
  readonly #nextMember: Int32Array;
  readonly #lastMember: Int32Array;
  readonly #mark: Float64Array;
  #flag = 1;
  readonly #hashHead: Int32Array;
  readonly #hashNext: Int32Array;
  readonly #hashOf: Int32Array;
  readonly #dense: number[] = [];
  #admitsLate = false;
  #least = 0;
  #eliminated = 0;
  /** Sum of the weights in the element being made. */
  #joined = 0;

  constructor(graph: Graph, late: Uint8Array) {
    const { size } = graph;
    const ints = () => new Int32Array(size);
    this.#size = size;
    this.#late = late;
    this.#pool = new Int32Array(2 * graph.neighbour.length + size + 1);
    this.#start = ints();
    this.#elements = ints();
    this.#length = ints();
    this.#state = new Uint8Array(size);
    this.#weight = ints().fill(1);
    this.#degree = ints();
    this.#buckets = new Buckets(size, size);
    this.#nextMember = ints().fill(-1);
    this.#lastMember = Int32Array.from({ length: size }, (_, k) => k);
    this.#mark = new Float64Array(size);
    this.#hashHead = ints().fill(-1);
    this.#hashNext = ints();
    this.#hashOf = ints();
    this.#take(graph);
  }

  #take({ size, start, neighbour }: Graph): void {
    const most = Math.max(LEAST_DENSE, DENSE * Math.sqrt(size));
    const degreeOf = (k: number) => start[k + 1] - start[k];
    for (let k = 0; k < size; k++) {
      if (degreeOf(k) <= most) continue;
      this.#dense.push(k);
      this.#state[k] = GONE;
      this.#weight[k] = 0;
    }
    this.#dense.sort((a, b) => degreeOf(a) - degreeOf(b) || a - b);
    for (let k = 0; k < size; k++) {
      if (this.#state[k] === GONE) continue;
      this.#start[k] = this.#free;
      for (let at = start[k]; at < start[k + 1]; at++) {
        if (this.#state[neighbour[at]] !== GONE) this.#pool[this.#free++] = neighbour[at];
      }
      this.#length[k] = this.#free - this.#start[k];
      this.#degree[k] = this.#length[k];
    }
    for (let k = 0; k < size; k++) this.#admit(k);
  }

  #admit(k: number): void {
    if (this.#state[k] !== ALIVE || (this.#late[k] === 1 && !this.#admitsLate)) return;
    this.#buckets.put(k, this.#degree[k]);
    this.#least = Math.min(this.#least, this.#degree[k]);
  }

  run(cheap: number): DegreeOrder {
    const order = new Int32Array(this.#size);
    let placed = 0;
    let early = 0;
    const place = (first: number) => {
      for (let k = first; k >= 0; k = this.#nextMember[k]) order[placed++] = k;
    };
    while (placed < this.#size - this.#dense.length) {
      let pivot = this.#next();
      if (!this.#admitsLate && (pivot < 0 || this.#degree[pivot] > cheap)) {
        this.#admitsLate = true;
        early = placed;
        for (let k = 0; k < this.#size; k++) this.#admit(k);
        pivot = this.#next();
      }
      this.#eliminate(pivot);
      place(pivot);
    }
    if (!this.#admitsLate) early = placed;
    for (const k of this.#dense) order[placed++] = k;
    return { order, early };
  }

  /** A node of least degree; −1 if none is admitted. */
  #next(): number {
    const { head } = this.#buckets;
    while (this.#least < this.#size && head[this.#least] < 0) this.#least++;
    return this.#least < this.#size ? head[this.#least] : -1;
  }

  #eliminate(pivot: number): void {
    this.#buckets.remove(pivot);
    this.#join(pivot);
    const [from, to] = [this.#start[pivot], this.#start[pivot] + this.#length[pivot]];
    this.#measure(from, to);
    for (let at = from; at < to; at++) this.#update(this.#pool[at], pivot);
    this.#flag += this.#size + 1;
    this.#pair(from, to);
    this.#flag++;
    this.#finish(pivot, from, to);
  }

  /** Makes the pivot an element: all nodes that it or one of its elements joins. */
  #join(pivot: number): void {
    this.#reserve(this.#roomOf(pivot));
    const begin = this.#free;
    this.#joined = 0;
    this.#eliminated += this.#weight[pivot];
    this.#weight[pivot] = -this.#weight[pivot];
    const first = this.#start[pivot];
    const firstNode = first + this.#elements[pivot];
    const end = first + this.#length[pivot];
    for (let at = first; at < firstNode; at++) {
      const element = this.#pool[at];
      if (this.#state[element] !== ELEMENT) continue;
      this.#append(this.#start[element], this.#start[element] + this.#length[element]);
      this.#state[element] = GONE;
    }
    this.#append(firstNode, end);
    this.#state[pivot] = ELEMENT;
    this.#start[pivot] = begin;
    this.#elements[pivot] = 0;
    this.#length[pivot] = this.#free - begin;
  }

  #append(from: number, to: number): void {
    for (let at = from; at < to; at++) {
      const k = this.#pool[at];
      const weight = this.#weight[k];
      if (weight <= 0) continue;
      this.#joined += weight;
      this.#weight[k] = -weight;
      this.#pool[this.#free++] = k;
      this.#buckets.remove(k);
    }
  }

  #roomOf(pivot: number): number {
    const first = this.#start[pivot];
    let room = this.#length[pivot];
    for (let at = first; at < first + this.#elements[pivot]; at++) room += this.#length[this.#pool[at]];
    return room;
  }

  /** Makes room at the end of the pool: lists of the living are moved together. */
  #reserve(room: number): void {
    if (this.#free + room <= this.#pool.length) return;
    let living = room;
    for (let k = 0; k < this.#size; k++) if (this.#state[k] !== GONE) living += this.#length[k];
    const pool = new Int32Array(Math.max(this.#pool.length, living + (living >> 1)));
    let free = 0;
    for (let k = 0; k < this.#size; k++) {
      if (this.#state[k] === GONE) continue;
      const from = this.#start[k];
      pool.set(this.#pool.subarray(from, from + this.#length[k]), free);
      this.#start[k] = free;
      free += this.#length[k];
    }
    this.#pool = pool;
    this.#free = free;
  }

  /** Notes, for each element met, the weight of its nodes outside the new one (`mark` − `flag`). */
  #measure(from: number, to: number): void {
    const flag = this.#flag;
    for (let at = from; at < to; at++) {
      const k = this.#pool[at];
      const first = this.#start[k];
      for (let a = first; a < first + this.#elements[k]; a++) {
        const element = this.#pool[a];
        if (this.#state[element] !== ELEMENT) continue;
        if (this.#mark[element] < flag) this.#mark[element] = this.#degree[element] + flag;
        this.#mark[element] += this.#weight[k];
      }
    }
  }

  /** Renews a node's lists and its degree outside the new element; a node with no other neighbours goes with the pivot. */
  #update(k: number, pivot: number): void {
    const pool = this.#pool;
    const first = this.#start[k];
    const firstNode = first + this.#elements[k];
    const end = first + this.#length[k];
    let to = first;
    let outside = 0;
    let hash = 0;
    for (let at = first; at < firstNode; at++) {
      const element = pool[at];
      if (this.#state[element] !== ELEMENT) continue;
      const rest = this.#mark[element] - this.#flag;
      if (rest <= 0) {
        // all that it joins is joined by the new one
        this.#state[element] = GONE;
        continue;
      }
      outside += rest;
      hash += element;
      pool[to++] = element;
    }
    const place = to;
    for (let at = firstNode; at < end; at++) {
      const node = pool[at];
      if (this.#weight[node] <= 0) continue;
      outside += this.#weight[node];
      hash += node;
      pool[to++] = node;
    }
    if (outside === 0 && (this.#admitsLate || this.#late[k] === 0)) {
      this.#goWith(pivot, k);
      return;
    }
    pool[to] = pool[place];
    pool[place] = pivot;
    this.#elements[k] = place + 1 - first;
    this.#length[k] = to + 1 - first;
    this.#degree[k] = Math.min(this.#degree[k], outside);
    this.#hashOf[k] = hash % this.#size;
  }

  #goWith(pivot: number, k: number): void {
    this.#joined += this.#weight[k];
    this.#eliminated -= this.#weight[k];
    this.#weight[pivot] += this.#weight[k];
    this.#absorb(pivot, k);
  }

  /** From now on `speaker` stands for node `k` as well. */
  #absorb(speaker: number, k: number): void {
    this.#weight[k] = 0;
    this.#state[k] = GONE;
    this.#nextMember[this.#lastMember[speaker]] = k;
    this.#lastMember[speaker] = this.#lastMember[k];
  }

  /** Puts together nodes of the new element whose lists are the same. */
  #pair(from: number, to: number): void {
    for (let at = from; at < to; at++) {
      const k = this.#pool[at];
      if (this.#weight[k] === 0) continue;
      const hash = this.#hashOf[k];
      this.#hashNext[k] = this.#hashHead[hash];
      this.#hashHead[hash] = k;
    }
    for (let at = from; at < to; at++) {
      const hash = this.#hashOf[this.#pool[at]];
      let k = this.#weight[this.#pool[at]] === 0 ? -1 : this.#hashHead[hash];
      if (k < 0) continue;
      this.#hashHead[hash] = -1;
      for (; k >= 0; k = this.#hashNext[k]) this.#pairWith(k);
    }
  }

  /** Absorbs into k those after it in its chain that have the same lists. */
  #pairWith(k: number): void {
    if (this.#hashNext[k] < 0) return;
    const flag = ++this.#flag;
    const first = this.#start[k];
    for (let at = first; at < first + this.#length[k]; at++) this.#mark[this.#pool[at]] = flag;
    let before = k;
    for (let other = this.#hashNext[k]; other >= 0; other = this.#hashNext[other]) {
      if (!this.#sameLists(k, other, flag)) {
        before = other;
        continue;
      }
      this.#weight[k] += this.#weight[other];
      this.#absorb(k, other);
      this.#hashNext[before] = this.#hashNext[other];
    }
  }

  #sameLists(k: number, other: number, flag: number): boolean {
    if (this.#length[k] !== this.#length[other] || this.#elements[k] !== this.#elements[other]) return false;
    if (this.#late[k] !== this.#late[other]) return false;
    const first = this.#start[other];
    for (let at = first; at < first + this.#length[other]; at++) {
      if (this.#mark[this.#pool[at]] !== flag) return false;
    }
    return true;
  }

  /** Gives the nodes of the new element back to the buckets, with their degrees. */
  #finish(pivot: number, from: number, to: number): void {
    const left = this.#size - this.#eliminated;
    let end = from;
    for (let at = from; at < to; at++) {
      const k = this.#pool[at];
      const weight = -this.#weight[k];
      if (weight === 0) continue;
      this.#weight[k] = weight;
      const degree = this.#degree[k] + this.#joined - weight;
      this.#degree[k] = Math.max(0, Math.min(degree, left - weight));
      this.#admit(k);
      this.#pool[end++] = k;
    }
    this.#length[pivot] = end - from;
    this.#degree[pivot] = this.#joined;
    if (end === from) this.#state[pivot] = GONE;
    this.#free = end;
  }
}
