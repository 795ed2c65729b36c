import type { Elimination } from "./elimination.ts";

/** An entry of L times one of U, by their numbers. */
export type Product = readonly [l: number, u: number];

/** By column, the products of varying entries of L with U that row i has taken away from it, in order. */
export function updatesOf(
  { start, firstVarying, diagonal, column }: Elimination,
  i: number,
): ReadonlyMap<number, readonly Product[]> {
  const updates = new Map<number, Product[]>();
  for (let l = firstVarying[i]; l < diagonal[i]; l++) {
    const k = column[l];
    for (let u = diagonal[k] + 1; u < start[k + 1]; u++) {
      const list = updates.get(column[u]);
      if (list === undefined) updates.set(column[u], [[l, u]]);
      else list.push([l, u]);
    }
  }
  return updates;
}
