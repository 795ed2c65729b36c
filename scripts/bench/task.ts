import { LuDecomposition, Matrix } from "ml-matrix";
import type { SmallSignal } from "../../src/engine/small-signal.ts";

/** (G + jωC)·x = b as coordinates, for contenders that know nothing of circuits. */
export interface Task {
  readonly size: number;
  readonly row: readonly number[];
  readonly column: readonly number[];
  readonly g: readonly number[];
  readonly c: readonly number[];
  readonly b: readonly number[];
  readonly omega: readonly number[];
}

/** A solution: real and imaginary part of each unknown. */
export interface Solution {
  readonly re: ArrayLike<number>;
  readonly im: ArrayLike<number>;
}

/** The equations of a small-signal network driven by the part with this index. */
export function taskOf(smallSignal: SmallSignal, source: number, hertz: readonly number[]): Task {
  const { pattern, g, c, network } = smallSignal;
  const { start, row, value } = network.stamps.signal;
  const b = new Array<number>(pattern.size).fill(0);
  for (let e = start[source]!; e < start[source + 1]!; e++) b[row[e]!]! += value[e]!;
  return {
    size: pattern.size,
    row: [...pattern.row],
    column: [...pattern.column],
    g: [...g],
    c: [...c],
    b,
    omega: hertz.map((f) => 2 * Math.PI * f),
  };
}

/** The complex system as a real one of twice the size: [G −ωC; ωC G]·[re; im] = [b; 0]. */
export function denseMatrix({ size, row, column, g, c }: Task, omega: number): Matrix {
  const matrix = Matrix.zeros(2 * size, 2 * size);
  const add = (i: number, j: number, value: number) => matrix.set(i, j, matrix.get(i, j) + value);
  row.forEach((i, s) => {
    const j = column[s]!;
    add(i, j, g[s]!);
    add(i + size, j + size, g[s]!);
    add(i, j + size, -omega * c[s]!);
    add(i + size, j, omega * c[s]!);
  });
  return matrix;
}

export const denseRightSide = ({ b, size }: Task): Matrix =>
  Matrix.columnVector([...b, ...new Array<number>(size).fill(0)]);

/** The dense reference: LU decomposition with partial pivoting. */
export function denseSolution(task: Task, omega: number): Solution {
  const x = new LuDecomposition(denseMatrix(task, omega)).solve(denseRightSide(task)).to1DArray();
  return { re: x.slice(0, task.size), im: x.slice(task.size) };
}

/** Largest difference of any of these unknowns, relative to the largest of them. */
export function differenceOf(a: Solution, b: Solution, unknowns: readonly number[]): number {
  let difference = 0;
  let largest = 0;
  for (const k of unknowns) {
    difference = Math.max(difference, Math.hypot(a.re[k]! - b.re[k]!, a.im[k]! - b.im[k]!));
    largest = Math.max(largest, Math.hypot(b.re[k]!, b.im[k]!));
  }
  return difference / largest;
}
