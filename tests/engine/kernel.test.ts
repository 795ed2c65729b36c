import fc from "fast-check";
import { LuDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { ComplexLu } from "../../src/engine/kernel/complex-lu.ts";
import { costOf, record } from "../../src/engine/kernel/elimination.ts";
import { order } from "../../src/engine/kernel/order.ts";
import { type Pattern, PatternBuilder } from "../../src/engine/kernel/pattern.ts";
import { RealLu } from "../../src/engine/kernel/real-lu.ts";

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

function recorded({ pattern, real, imaginary }: Sparse, varying?: Uint8Array) {
  const ordering = order(pattern, { real, imaginary, varying });
  if ("singularColumns" in ordering) throw new Error("singular");
  return record(pattern, ordering, varying);
}

/** Every third slot varies; the rest is constant. */
const thirds = ({ pattern }: Sparse) => Uint8Array.from(pattern.row, (_, slot) => (slot % 3 === 0 ? 1 : 0));

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

/** Largest element of b − (G + jωC)·x. */
function largestResidual(
  { pattern, real }: Sparse,
  c: Float64Array,
  omega: number,
  lu: ComplexLu,
  b: Float64Array,
  lane: number,
): number {
  const [leftRe, leftIm] = [b.slice(), new Float64Array(b.length)];
  pattern.row.forEach((r, s) => {
    const [re, im] = [lu.re(pattern.column[s]!, lane), lu.im(pattern.column[s]!, lane)];
    leftRe[r]! -= real[s]! * re - omega * c[s]! * im;
    leftIm[r]! -= real[s]! * im + omega * c[s]! * re;
  });
  return Math.max(...leftRe.map(Math.abs), ...leftIm.map(Math.abs));
}

describe("the sparse elimination", () => {
  it("solves the same real systems as a dense LU decomposition, however they are split in two parts", () => {
    fc.assert(
      fc.property(regular, (matrix) => {
        const real = { ...matrix, imaginary: new Float64Array(matrix.real.length) };
        const varying = thirds(real);
        const lu = new RealLu(recorded(real, varying));
        const slots = Int32Array.from(varying.keys()).filter((slot) => varying[slot] === 1);
        expect(lu.fix(real.real.map((value, slot) => (varying[slot] === 1 ? value / 3 : value)))).toBe(true);
        const added = Float64Array.from(slots, (slot) => (real.real[slot]! * 2) / 3);
        const b = rightSide(real.pattern.size, 0);
        const expected = new LuDecomposition(dense(real, real.real))
          .solve(Matrix.columnVector(b))
          .to1DArray();
        // after some replays machine code takes over
        for (let replay = 0; replay < 70; replay++) {
          expect(lu.factor(slots, added)).toBe(true);
          const x = new Float64Array(b.length);
          lu.solve(b, x);
          expected.forEach((value, k) => {
            expect(Math.abs(x[k]! - value)).toBeLessThan(1e-11);
          });
        }
      }),
    );
  });

  for (const compiled of [false, true]) {
    const how = compiled ? "as machine code" : "by its index lists";
    it(`solves (G + jωC)·x = b so that the left side gives b again, ${how}`, () => {
      fc.assert(
        fc.property(regular, fc.double({ min: 0.1, max: 3, noNaN: true }), (matrix, omega) => {
          const { size } = matrix.pattern;
          const varying = thirds(matrix);
          const c = matrix.imaginary.map((value, slot) => (varying[slot] === 1 ? value : 0));
          const lu = new ComplexLu(
            recorded({ ...matrix, imaginary: c }, varying),
            compiled ? "at once" : "never",
          );
          expect(lu.compiled).toBe(compiled);
          expect(lu.fix(matrix.real, c)).toBe(true);
          expect(lu.factor(omega)).toBe(true);
          const b = rightSide(size, 0);
          lu.drive(b);
          lu.solve();
          expect(largestResidual(matrix, c, omega, lu, b, 0)).toBeLessThan(1e-12);
          // two at once
          expect(lu.factor(omega, 2 * omega)).toBe(true);
          lu.solve();
          expect(largestResidual(matrix, c, omega, lu, b, 0)).toBeLessThan(1e-12);
          expect(largestResidual(matrix, c, 2 * omega, lu, b, 1)).toBeLessThan(1e-12);
        }),
      );
    });
  }

  it("solves for what is asked for alone, after a while, and for the rest once that is asked for", () => {
    fc.assert(
      fc.property(regular, fc.nat(), fc.nat(), (matrix, from, to) => {
        const { size } = matrix.pattern;
        const varying = thirds(matrix);
        const c = matrix.imaginary.map((value, slot) => (varying[slot] === 1 ? value : 0));
        const elimination = recorded({ ...matrix, imaginary: c }, varying);
        const [lu, whole] = [new ComplexLu(elimination, "at once"), new ComplexLu(elimination, "never")];
        const drive = (at: number) => {
          const b = new Float64Array(size);
          b[at % size] = 1;
          for (const one of [lu, whole]) {
            one.drive(b);
            one.solve();
          }
          return b;
        };
        for (const one of [lu, whole]) {
          one.fix(matrix.real, c);
          one.factor(1, 2);
        }
        for (let k = 0; k < 100; k++) {
          drive(from);
          for (const lane of [0, 1]) {
            expect(lu.re(to % size, lane)).toBeCloseTo(whole.re(to % size, lane), 12);
            expect(lu.im(to % size, lane)).toBeCloseTo(whole.im(to % size, lane), 12);
          }
        }
        expect(lu.solveCost).toBeLessThanOrEqual(whole.solveCost);
        const b = drive(from);
        expect(largestResidual(matrix, c, 2, lu, b, 1)).toBeLessThan(1e-12);
        expect(largestResidual(matrix, c, 1, lu, drive(from + 1), 0)).toBeLessThan(1e-12);
      }),
    );
  });

  it("gives without reactances what the real replay gives", () => {
    fc.assert(
      fc.property(regular, (matrix) => {
        const real = { ...matrix, imaginary: new Float64Array(matrix.real.length) };
        const elimination = recorded(real, thirds(real));
        const [realLu, complexLu] = [new RealLu(elimination), new ComplexLu(elimination)];
        realLu.fix(real.real);
        realLu.factor(new Int32Array(), new Float64Array());
        complexLu.fix(real.real, real.imaginary);
        complexLu.factor(1);
        const b = rightSide(real.pattern.size, 2);
        const x = new Float64Array(b.length);
        realLu.solve(b, x);
        complexLu.drive(b);
        complexLu.solve();
        x.forEach((value, k) => {
          expect(complexLu.re(k)).toBeCloseTo(value, 12);
          expect(Math.abs(complexLu.im(k))).toBe(0);
        });
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
    const all = Int32Array.of(0, 1, 2, 3);
    const lu = new RealLu(recorded(matrix, new Uint8Array(4).fill(1)));
    lu.fix(new Float64Array(4));
    expect(lu.factor(all, matrix.real)).toBe(true);
    expect(lu.factor(all, Float64Array.of(1e-12, 1, 1, 1e-12))).toBe(false);
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
          expect(costOf(recorded(sparse(40, entries))).fill).toBe(0);
        },
      ),
    );
  });
});
