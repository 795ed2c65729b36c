import type { Elimination } from "./elimination.ts";
import { type Graph, minimumDegree } from "./minimum-degree.ts";
import type { MatrixValues } from "./order.ts";
import { pairing, slotsBy } from "./pairing.ts";
import type { Pattern } from "./pattern.ts";

/** From so many unknowns on, an order found without looking at the values while eliminating is tried first. */
const LARGE = 500;
/** Where pivots fall below this share of their rows, the quick order is not good enough. */
const LEAST_QUICK_PIVOT = 1e-5;
/** A fixed pivot may join so many; a dearer one would burden every solve after it. */
const FIXED_NEIGHBOURS = 3;

/**
 * Elimination of a large matrix in an order found from its pattern alone, once each column has been paired with
 * a row: minimum degree on the pattern and its mirror image. Whether the pivots are large enough the first
 * replay shows. Undefined if the matrix has fewer than `from` unknowns
 * or no full set of pivots.
 */
export function quickElimination(
  pattern: Pattern,
  values: MatrixValues,
  from = LARGE,
): Elimination | undefined {
  if (pattern.size < from) return undefined;
  const rowOf = pairing(pattern, values);
  if (rowOf === undefined) return undefined;
  const line = lineOf(pattern, rowOf);
  const graph = mirrored(pattern, line);
  const late = new Uint8Array(pattern.size);
  const { varying } = values;
  if (varying !== undefined) {
    for (let s = 0; s < varying.length; s++) {
      if (varying[s] === 0) continue;
      late[line[s]] = 1;
      late[pattern.column[s]] = 1;
    }
  }
  const { order, early } = minimumDegree(graph, late, FIXED_NEIGHBOURS);
  return recorded(pattern, line, graph, { order, early, rowOf }, varying);
}

/** Of each slot, the column that its row is paired with. */
function lineOf({ size, row }: Pattern, rowOf: Int32Array): Int32Array {
  const columnOf = new Int32Array(size);
  for (let c = 0; c < size; c++) columnOf[rowOf[c]] = c;
  return row.map((r) => columnOf[r]);
}

/** The pattern and its mirror image as a graph. */
function mirrored({ size, column }: Pattern, line: Int32Array): Graph {
  const start = new Int32Array(size + 1);
  for (let s = 0; s < line.length; s++) {
    if (line[s] === column[s]) continue;
    start[line[s] + 1]++;
    start[column[s] + 1]++;
  }
  for (let k = 0; k < size; k++) start[k + 1] += start[k];
  const next = start.slice();
  const both = new Int32Array(start[size]);
  for (let s = 0; s < line.length; s++) {
    if (line[s] === column[s]) continue;
    both[next[line[s]]++] = column[s];
    both[next[column[s]]++] = line[s];
  }
  return eachOnce(size, start, both);
}

function eachOnce(size: number, from: Int32Array, both: Int32Array): Graph {
  const start = new Int32Array(size + 1);
  const seen = new Int32Array(size).fill(-1);
  let end = 0;
  for (let k = 0; k < size; k++) {
    for (let at = from[k]; at < from[k + 1]; at++) {
      const other = both[at];
      if (seen[other] === k) continue;
      seen[other] = k;
      both[end++] = other;
    }
    start[k + 1] = end;
  }
  return { size, start, neighbour: both.slice(0, end) };
}

/** Lists one after the other: list k at `start[k]` … `start[k + 1]` − 1. */
interface Lists {
  readonly start: Int32Array;
  readonly items: Int32Array;
}

/** For each pivot in its order, the later ones that its elimination joins, in no order. */
function joinedBy({ size, start, neighbour }: Graph, order: Int32Array): Lists {
  const place = new Int32Array(size);
  for (let i = 0; i < size; i++) place[order[i]] = i;
  const begin = new Int32Array(size + 1);
  let items = new Int32Array(4 * neighbour.length + size);
  const firstChild = new Int32Array(size).fill(-1);
  const nextChild = new Int32Array(size);
  const seen = new Int32Array(size).fill(-1);
  let end = 0;
  for (let i = 0; i < size; i++) {
    const from = end;
    let parent = size;
    if (end + size - i > items.length) items = grown(items, end + size);
    const add = (other: number) => {
      if (other <= i || seen[other] === i) return;
      seen[other] = i;
      items[end++] = other;
      if (other < parent) parent = other;
    };
    for (let at = start[order[i]]; at < start[order[i] + 1]; at++) add(place[neighbour[at]]);
    for (let child = firstChild[i]; child >= 0; child = nextChild[child]) {
      for (let at = begin[child]; at < begin[child + 1]; at++) add(items[at]);
    }
    begin[i] = from;
    begin[i + 1] = end;
    if (parent === size) continue;
    nextChild[i] = firstChild[parent];
    firstChild[parent] = i;
  }
  return { start: begin, items: items.subarray(0, end) };
}

function grown(items: Int32Array, least: number): Int32Array<ArrayBuffer> {
  const larger = new Int32Array(Math.max(least, 2 * items.length));
  larger.set(items);
  return larger;
}

/** Of lists of numbers, for each number the lists that have it, ascending. */
function turned({ start, items }: Lists): Lists {
  const size = start.length - 1;
  const begin = new Int32Array(size + 1);
  for (let at = 0; at < items.length; at++) begin[items[at] + 1]++;
  for (let k = 0; k < size; k++) begin[k + 1] += begin[k];
  const next = begin.slice();
  const lists = new Int32Array(items.length);
  for (let k = 0; k < size; k++) {
    for (let at = start[k]; at < start[k + 1]; at++) lists[next[items[at]]++] = k;
  }
  return { start: begin, items: lists };
}

interface Chosen {
  readonly order: Int32Array;
  readonly early: number;
  readonly rowOf: Int32Array;
}

/** Writes the elimination down: row i of L has the pivots that join i, row i of U those that i joins. */
function recorded(
  pattern: Pattern,
  line: Int32Array,
  graph: Graph,
  { order, early: fixed, rowOf }: Chosen,
  varying: Uint8Array | undefined,
): Elimination {
  const { size } = pattern;
  const lower = turned(joinedBy(graph, order));
  const upper = turned(lower);
  const start = new Int32Array(size + 1);
  const diagonal = new Int32Array(size);
  const firstVarying = new Int32Array(size);
  const column = new Int32Array(2 * lower.items.length + size);
  let end = 0;
  for (let i = 0; i < size; i++) {
    firstVarying[i] = -1;
    for (let at = lower.start[i]; at < lower.start[i + 1]; at++) {
      if (firstVarying[i] < 0 && lower.items[at] >= fixed) firstVarying[i] = end;
      column[end++] = lower.items[at];
    }
    if (firstVarying[i] < 0) firstVarying[i] = end;
    diagonal[i] = end;
    column[end++] = i;
    for (let at = upper.start[i]; at < upper.start[i + 1]; at++) column[end++] = upper.items[at];
    start[i + 1] = end;
  }
  const entryOfSlot = loading(pattern, line, order, { start, column });
  const isVarying = new Uint8Array(end);
  if (varying !== undefined) {
    for (let s = 0; s < varying.length; s++) if (varying[s] === 1) isVarying[entryOfSlot[s]] = 1;
  }
  const pivotRow = order.map((k) => rowOf[k]);
  const entries = { size, fixed, start, firstVarying, diagonal, column };
  return { ...entries, entryOfSlot, isVarying, pivotRow, pivotColumn: order, leastPivot: LEAST_QUICK_PIVOT };
}

/** The entry that each slot is loaded into. */
function loading(
  { size, column: columnOfSlot }: Pattern,
  line: Int32Array,
  order: Int32Array,
  { start, column }: Pick<Elimination, "start" | "column">,
): Int32Array {
  const place = new Int32Array(size);
  for (let i = 0; i < size; i++) place[order[i]] = i;
  const [slots, first] = slotsBy(line, size);
  const entryAt = new Int32Array(size);
  const entryOfSlot = new Int32Array(line.length);
  for (let i = 0; i < size; i++) {
    for (let e = start[i]; e < start[i + 1]; e++) entryAt[column[e]] = e;
    for (let at = first[order[i]]; at < first[order[i] + 1]; at++) {
      const slot = slots[at];
      entryOfSlot[slot] = entryAt[place[columnOfSlot[slot]]];
    }
  }
  return entryOfSlot;
}
