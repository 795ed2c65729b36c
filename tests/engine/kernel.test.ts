import fc from "fast-check";
import { LuDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { record } from "../../src/engine/kernel/elimination.ts";
import { ComplexLu, RealLu } from "../../src/engine/kernel/lu.ts";
import { order } from "../../src/engine/kernel/order.ts";
import { type Pattern, PatternBuilder } from "../../src/engine/kernel/pattern.ts";

interface Sparse {
  readonly pattern: Pattern;
  readonly real: Float64Array;
  readonly imaginary: Float64Array;
}

function sparse(size: number, entries: readonly (readonly [number, number, number, number?])[]): Sparse {
  const builder = new PatternBuilder(size);
  const slots = entries.map(([row, column]) => builder.slot(row, column));
  const pattern = builder.finish();
  const real = new Float64Array(pattern.row.length);
  const imaginary = new Float64Array(pattern.row.length);
  entries.forEach(([, , re, im = 0], k) => {
    real[slots[k]!]! += re;
    imaginary[slots[k]!]! += im;
  });
  return { pattern, real, imaginary };
}

function dense({ pattern }: Sparse, values: Float64Array): Matrix {
  const matrix = Matrix.zeros(pattern.size, pattern.size);
  pattern.row.forEach((row, slot) => {
    matrix.set(row, pattern.column[slot]!, values[slot]!);
  });
  return matrix;
}

function recorded({ pattern, real, imaginary }: Sparse) {
  const ordering = order(pattern, { real, imaginary });
  if ("singularColumns" in ordering) throw new Error("singular");
  return record(pattern, ordering);
}

/** Random sparse matrices that are surely regular: a dominant diagonal under a shuffled row order. */
const regular = fc
  .record({
    size: fc.integer({ min: 1, max: 25 }),
    entries: fc.array(
      fc.tuple(
        fc.nat(),
        fc.nat(),
        fc.double({ min: -1, max: 1, noNaN: true }),
        fc.double({ min: -1, max: 1, noNaN: true }),
      ),
      { maxLength: 80 },
    ),
    shift: fc.nat(),
  })
  .map(({ size, entries, shift }) => {
    const inside = entries.map(([r, c, re, im]) => [r % size, c % size, re, im] as const);
    const sums = new Float64Array(size).fill(1);
    for (const [r, , re, im] of inside) sums[r]! += Math.hypot(re, im);
    const diagonal = Array.from(sums, (sum, k) => [k, k, 2 * sum, sum / 2] as const);
    return sparse(
      size,
      [...inside, ...diagonal].map(([r, c, re, im]) => [(r + shift) % size, c, re, im] as const),
    );
  });

const rightSide = (size: number, phase: number) =>
  Float64Array.from({ length: size }, (_, k) => Math.cos(k + phase));

describe("the sparse elimination", () => {
  it("solves the same real systems as a dense LU decomposition", () => {
    fc.assert(
      fc.property(regular, (matrix) => {
        const real = { ...matrix, imaginary: new Float64Array(matrix.real.length) };
        const lu = new RealLu(recorded(real));
        expect(lu.factor(real.real)).toBe(true);
        const b = rightSide(real.pattern.size, 0);
        const x = new Float64Array(b.length);
        lu.solve(b, x);
        const expected = new LuDecomposition(dense(real, real.real))
          .solve(Matrix.columnVector(b))
          .to1DArray();
        expected.forEach((value, k) => {
          expect(x[k]).toBeCloseTo(value, 11);
        });
      }),
    );
  });

  it("solves complex systems so that A·x gives b again", () => {
    fc.assert(
      fc.property(regular, (matrix) => {
        const { size, row, column } = matrix.pattern;
        const lu = new ComplexLu(recorded(matrix));
        expect(lu.factor(matrix.real, matrix.imaginary)).toBe(true);
        const [bRe, bIm] = [rightSide(size, 0), rightSide(size, 1)];
        const [xRe, xIm] = [new Float64Array(size), new Float64Array(size)];
        lu.solve(bRe, bIm, xRe, xIm);
        const [re, im] = [bRe.slice(), bIm.slice()];
        row.forEach((r, s) => {
          const c = column[s]!;
          re[r]! -= matrix.real[s]! * xRe[c]! - matrix.imaginary[s]! * xIm[c]!;
          im[r]! -= matrix.real[s]! * xIm[c]! + matrix.imaginary[s]! * xRe[c]!;
        });
        for (const left of [...re, ...im]) expect(Math.abs(left)).toBeLessThan(1e-12);
      }),
    );
  });

  it("gives a complex replay of real values to the last bit what the real replay gives", () => {
    fc.assert(
      fc.property(regular, (matrix) => {
        const real = { ...matrix, imaginary: new Float64Array(matrix.real.length) };
        const elimination = recorded(real);
        const [realLu, complexLu] = [new RealLu(elimination), new ComplexLu(elimination)];
        realLu.factor(real.real);
        complexLu.factor(real.real, real.imaginary);
        const b = rightSide(real.pattern.size, 2);
        const [x, xRe, xIm] = [b.slice(), b.slice(), new Float64Array(b.length)];
        realLu.solve(b, x);
        complexLu.solve(b, new Float64Array(b.length), xRe, xIm);
        x.forEach((value, k) => {
          expect(xRe[k]).toBeCloseTo(value, 12);
        });
        expect([...xIm].every((value) => value === 0)).toBe(true);
      }),
    );
  });

  it("names the rows and columns that are left when the matrix is singular", () => {
    const { pattern, real } = sparse(3, [
      [0, 0, 1],
      [1, 1, 2],
      [1, 2, 4],
      [2, 1, 1],
      [2, 2, 2],
    ]);
    const ordering = order(pattern, { real });
    expect(ordering).toMatchObject({
      singularRows: [expect.any(Number)],
      singularColumns: [expect.any(Number)],
    });
  });

  it("does not take a rounding remnant for a pivot", () => {
    const third = 1 / 3;
    const { pattern, real } = sparse(2, [
      [0, 0, 0.1],
      [0, 1, third],
      [1, 0, 0.3],
      [1, 1, 3 * third + 1e-17],
    ]);
    expect(order(pattern, { real })).toHaveProperty("singularColumns");
  });

  it("says so when values no longer suit the recorded order", () => {
    const matrix = sparse(2, [
      [0, 0, 1],
      [0, 1, 1],
      [1, 0, 1],
      [1, 1, 5],
    ]);
    const lu = new RealLu(recorded(matrix));
    expect(lu.factor(matrix.real)).toBe(true);
    expect(lu.factor(Float64Array.of(1e-12, 1, 1, 1e-12))).toBe(false);
  });

  it("adds no fill to a ladder, whatever order its nodes are numbered in", () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray(
          Array.from({ length: 40 }, (_, k) => k),
          { minLength: 40 },
        ),
        (number) => {
          const entries = number.flatMap((node, k): [number, number, number][] => {
            const next = number[k + 1];
            return next === undefined
              ? [[node, node, 3]]
              : [
                  [node, node, 3],
                  [node, next, -1],
                  [next, node, -1],
                ];
          });
          expect(recorded(sparse(40, entries)).fill).toBe(0);
        },
      ),
    );
  });
});
