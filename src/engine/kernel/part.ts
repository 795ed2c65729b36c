import type { Elimination } from "./elimination.ts";

/**
 * What of a solution has to be worked out, by place: `inputs` are the rows where the right-hand side may be
 * other than 0 once the fixed stage is through, `reached` those where it may be after the multiples of varying
 * rows too, `needed` those whose unknowns lead back to what is asked for.
 */
export interface Part {
  readonly inputs: Uint8Array;
  readonly reached: Uint8Array;
  readonly needed: Uint8Array;
  /** Multiply-adds in varying rows; divisions by a pivot count as multiplications. */
  readonly cost: number;
}

/** Follows `inputs` down through L, and what is `asked` for (by place) up through U. */
export function partOf(elimination: Elimination, inputs: Uint8Array, asked: Uint8Array): Part {
  const { size, fixed, start, firstVarying, diagonal, column } = elimination;
  const reached = inputs.slice();
  const needed = asked.slice();
  let cost = 0;
  for (let i = fixed; i < size; i++) {
    for (let e = firstVarying[i]; e < diagonal[i]; e++) {
      cost += reached[column[e]];
      reached[i] |= reached[column[e]];
    }
  }
  for (let i = 0; i < size; i++) {
    if (needed[i] === 0) continue;
    if (i >= fixed) cost += start[i + 1] - diagonal[i];
    for (let e = diagonal[i] + 1; e < start[i + 1]; e++) needed[column[e]] = 1;
  }
  return { inputs, reached, needed, cost };
}

/** All of it. */
export function wholeOf(elimination: Elimination): Part {
  const all = new Uint8Array(elimination.size).fill(1);
  return partOf(elimination, all, all);
}
