import { type Contender, inProcess } from "./sampling.ts";
import type { Solution, Task } from "./task.ts";

/** What is used of mathjs. Its package is not among the project's own, so its types may not be there. */
interface MathJs {
  complex(re: number, im: number): Complex;
  matrix(kind: "sparse"): SparseMatrix;
  lup(a: SparseMatrix): unknown;
  lusolve(lup: unknown, b: readonly Complex[][]): { toArray(): (Complex | number)[][] };
}

interface Complex {
  readonly re: number;
  readonly im: number;
}

interface SparseMatrix {
  resize(size: readonly number[]): SparseMatrix;
  get(at: readonly [number, number]): Complex | number;
  set(at: readonly [number, number], value: Complex): SparseMatrix;
}

/** Solves complex sparse matrices, filled beforehand, at these angular frequencies. */
export async function mathjsContender(name: string, task: Task, omegas: readonly number[]) {
  const library: string = "mathjs";
  const math = (await import(library)) as MathJs;
  const matrices = omegas.map((omega) => matrixOf(math, task, omega));
  const b = task.b.map((value) => [math.complex(value, 0)]);
  const solve = (a: SparseMatrix) => math.lusolve(math.lup(a), b).toArray();
  const contender: Contender = inProcess(name, omegas.length, () => {
    for (const a of matrices) solve(a);
  });
  const solution = (_: number, omega: number): Solution => {
    const x = solve(matrixOf(math, task, omega)).map(([value = 0]) =>
      typeof value === "number" ? { re: value, im: 0 } : value,
    );
    return { re: x.map(({ re }) => re), im: x.map(({ im }) => im) };
  };
  return { contender, solution };
}

function matrixOf(math: MathJs, { size, row, column, g, c }: Task, omega: number): SparseMatrix {
  const a = math.matrix("sparse").resize([size, size]);
  const sum = new Map<string, [number, number, number, number]>();
  row.forEach((i, s) => {
    const key = `${i} ${column[s]}`;
    const [, , re, im] = sum.get(key) ?? [0, 0, 0, 0];
    sum.set(key, [i, column[s]!, re + g[s]!, im + omega * c[s]!]);
  });
  for (const [i, j, re, im] of sum.values()) a.set([i, j], math.complex(re, im));
  return a;
}
