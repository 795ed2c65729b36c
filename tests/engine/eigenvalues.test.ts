import fc from "fast-check";
import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { eigenvalues } from "../../src/engine/natural/eigenvalues.ts";

const rows = (matrix: readonly (readonly number[])[]) => matrix.map((row) => Float64Array.from(row));

type Value = { readonly re: number; readonly im: number };
const sorted = (values: readonly Value[]) => values.toSorted((a, b) => a.re - b.re || a.im - b.im);

/** Largest distance from a value of `a` to the nearest of `b`. */
const apart = (a: readonly Value[], b: readonly Value[]) =>
  Math.max(...a.map((x) => Math.min(...b.map((y) => Math.hypot(x.re - y.re, x.im - y.im)))));

describe("eigenvalues of a real matrix", () => {
  it("of nothing are none, and of one number are that number", () => {
    expect(eigenvalues([])).toEqual([]);
    expect(eigenvalues(rows([[-3]]))).toEqual([{ re: -3, im: 0 }]);
  });

  it("of a triangle are its diagonal", () => {
    const found = sorted(
      eigenvalues(
        rows([
          [4, 1, 7],
          [0, -2, 5],
          [0, 0, 1],
        ]),
      ),
    );
    expect(found.map(({ re }) => re)).toEqual([-2, 1, 4]);
  });

  it("of a rotation are a pair on the unit circle", () => {
    const [c, s] = [Math.cos(0.3), Math.sin(0.3)];
    const [low, high] = sorted(
      eigenvalues(
        rows([
          [c, -s],
          [s, c],
        ]),
      ),
    );
    expect(low!.re).toBeCloseTo(c, 14);
    expect(low!.im).toBeCloseTo(-s, 14);
    expect(high!.im).toBeCloseTo(s, 14);
  });

  it("of a companion matrix are the zeros of its polynomial", () => {
    // of (s − 1)(s − 2)(s − 3)(s² + 2s + 5)
    const companion = [
      polynomial([1, 2, 3], [2, 5])
        .slice(1)
        .map((coefficient) => -coefficient),
      [1, 0, 0, 0, 0],
      [0, 1, 0, 0, 0],
      [0, 0, 1, 0, 0],
      [0, 0, 0, 1, 0],
    ];
    const exact = [1, 2, 3].map((re) => ({ re, im: 0 }));
    const pair = [-2, 2].map((im) => ({ re: -1, im }));
    expect(apart(eigenvalues(rows(companion)), [...exact, ...pair])).toBeLessThan(1e-12);
    expect(apart([...exact, ...pair], eigenvalues(rows(companion)))).toBeLessThan(1e-12);
  });

  it("of a cyclic exchange, where ordinary shifts stand still, are the roots of one", () => {
    for (const size of [4, 5, 8, 12]) {
      const exchange = Array.from({ length: size }, (_, i) =>
        Array.from({ length: size }, (_, j) => (j === (i + 1) % size ? 1 : 0)),
      );
      const roots = Array.from({ length: size }, (_, k) => ({
        re: Math.cos((2 * Math.PI * k) / size),
        im: Math.sin((2 * Math.PI * k) / size),
      }));
      const found = eigenvalues(rows(exchange));
      expect(found.length).toBe(size);
      expect(apart(roots, found)).toBeLessThan(1e-12);
    }
  });

  it("agree with those of ml-matrix for any matrix, and add up to its trace", () => {
    const entry = fc.integer({ min: -8, max: 8 });
    const matrix = fc
      .integer({ min: 2, max: 9 })
      .chain((size) =>
        fc.array(fc.array(entry, { minLength: size, maxLength: size }), { minLength: size, maxLength: size }),
      );
    fc.assert(
      fc.property(matrix, (values) => {
        const found = eigenvalues(rows(values));
        expect(found.length).toBe(values.length);
        const trace = values.reduce((sum, row, k) => sum + row[k]!, 0);
        const sum = (key: "re" | "im") => found.reduce((all, value) => all + value[key], 0);
        expect(sum("re")).toBeCloseTo(trace, 9);
        expect(sum("im")).toBeCloseTo(0, 9);
        const { realEigenvalues, imaginaryEigenvalues } = new EigenvalueDecomposition(new Matrix(values), {
          assumeSymmetric: false,
        });
        const theirs = realEigenvalues.map((re, k) => ({ re, im: imaginaryEigenvalues[k]! }));
        // a multiple eigenvalue is off by a root of the rounding
        expect(apart(found, theirs)).toBeLessThan(0.05);
        expect(apart(theirs, found)).toBeLessThan(0.05);
      }),
    );
  });
});

/** Coefficients of Π(s − root) · (s² + b·s + c), highest power first. */
function polynomial(roots: readonly number[], [b, c]: readonly [number, number]): number[] {
  return roots.reduce((p, root) => times(p, [1, -root]), [1, b, c]);
}

function times(p: readonly number[], q: readonly number[]): number[] {
  const product = new Array<number>(p.length + q.length - 1).fill(0);
  for (const [i, a] of p.entries()) for (const [j, b] of q.entries()) product[i + j]! += a * b;
  return product;
}
