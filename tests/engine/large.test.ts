import fc from "fast-check";
import { LuDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { Jacobian } from "../../src/engine/jacobian.ts";
import { ComplexLu } from "../../src/engine/kernel/complex-lu.ts";
import { costOf, type Elimination } from "../../src/engine/kernel/elimination.ts";
import { minimumDegree } from "../../src/engine/kernel/minimum-degree.ts";
import { pairing } from "../../src/engine/kernel/pairing.ts";
import { type Pattern, PatternBuilder } from "../../src/engine/kernel/pattern.ts";
import { quickElimination } from "../../src/engine/kernel/quick-elimination.ts";
import { RealLu } from "../../src/engine/kernel/real-lu.ts";
import { network } from "../../src/engine/network.ts";
import { isSolved, operatingPoint } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { battery, build, type Draft, draft, farads, generator, ohms } from "./build.ts";

type Entry = readonly [row: number, column: number, value: number];

function matrixOf(size: number, entries: readonly Entry[]): { pattern: Pattern; real: Float64Array } {
  const builder = new PatternBuilder(size);
  const slots = entries.map(([row, column]) => builder.slot(row, column));
  const pattern = builder.finish();
  const real = new Float64Array(pattern.row.length);
  entries.forEach(([, , value], k) => {
    real[slots[k]!]! += value;
  });
  return { pattern, real };
}

function solvedDensely({ pattern, real }: ReturnType<typeof matrixOf>, b: Float64Array): number[] {
  const matrix = Matrix.zeros(pattern.size, pattern.size);
  pattern.row.forEach((row, slot) => {
    matrix.set(row, pattern.column[slot]!, real[slot]!);
  });
  return new LuDecomposition(matrix).solve(Matrix.columnVector(b)).to1DArray();
}

/** Both directions of every edge. */
function graphOf(size: number, edges: readonly (readonly [number, number])[]) {
  const sets = Array.from({ length: size }, () => new Set<number>());
  for (const [a, b] of edges) {
    if (a === b) continue;
    sets[a]!.add(b);
    sets[b]!.add(a);
  }
  const start = new Int32Array(size + 1);
  sets.forEach((set, k) => {
    start[k + 1] = start[k]! + set.size;
  });
  return { size, start, neighbour: Int32Array.from(sets.flatMap((set) => [...set])) };
}

/**
 * Nodes with conductances between them and to chassis, and ideal batteries from some nodes to chassis: rows
 * and columns with nothing on the diagonal.
 */
const conductances = fc
  .record({
    nodes: fc.integer({ min: 1, max: 40 }),
    edges: fc.array(fc.tuple(fc.nat(), fc.nat(), fc.double({ min: 0.1, max: 3, noNaN: true })), {
      maxLength: 120,
    }),
    held: fc.uniqueArray(fc.nat({ max: 39 }), { maxLength: 6 }),
  })
  .map(({ nodes, edges, held }) => {
    const sources = held.filter((node) => node < nodes);
    const inside = edges.map(([a, b, g]) => [a % nodes, b % nodes, g] as const).filter(([a, b]) => a !== b);
    const entries: Entry[] = [
      ...Array.from({ length: nodes }, (_, k): Entry => [k, k, 0.5]),
      ...inside.flatMap(([a, b, g]): Entry[] => [
        [a, a, g],
        [b, b, g],
        [a, b, -g],
        [b, a, -g],
      ]),
      ...sources.flatMap((node, k): Entry[] => [
        [node, nodes + k, 1],
        [nodes + k, node, 1],
      ]),
    ];
    return matrixOf(nodes + sources.length, entries);
  });

const everySecond = (pattern: Pattern) =>
  Uint8Array.from(pattern.row, (row, slot) => (row % 2 === 0 && pattern.column[slot] === row ? 1 : 0));

function quickOf(matrix: ReturnType<typeof matrixOf>, varying?: Uint8Array): Elimination {
  const elimination = quickElimination(matrix.pattern, { real: matrix.real, varying }, 0);
  if (elimination === undefined) throw new Error("no full set of pivots");
  return elimination;
}

describe("the order by minimum degree", () => {
  it("has every node once, and no late one among the early ones", () => {
    const edges = fc.array(fc.tuple(fc.nat({ max: 59 }), fc.nat({ max: 59 })), { maxLength: 250 });
    const lateness = fc.uint8Array({ min: 0, max: 1, minLength: 60, maxLength: 60 });
    fc.assert(
      fc.property(edges, lateness, fc.integer({ min: 1, max: 60 }), (all, late, size) => {
        const graph = graphOf(
          size,
          all.filter(([a, b]) => a < size && b < size),
        );
        const { order, early } = minimumDegree(graph, late, 3);
        expect([...order].toSorted((a, b) => a - b)).toEqual(Array.from({ length: size }, (_, k) => k));
        for (const node of order.subarray(0, early)) expect(late[node]).toBe(0);
      }),
    );
  });

  it("adds next to nothing to a ladder and little more than half as much to a grid as row by row would", () => {
    const side = 30;
    const at = (x: number, y: number): number => side * y + x;
    const entries: Entry[] = [];
    for (let y = 0; y < side; y++) {
      for (let x = 0; x < side; x++) {
        entries.push([at(x, y), at(x, y), 5]);
        for (const to of [x + 1 < side ? at(x + 1, y) : -1, y + 1 < side ? at(x, y + 1) : -1]) {
          if (to >= 0) entries.push([at(x, y), to, -1], [to, at(x, y), -1]);
        }
      }
    }
    const band = 2 * side ** 3 - 4 * side ** 2;
    expect(costOf(quickOf(matrixOf(side ** 2, entries))).fill).toBeLessThan(0.4 * band);
    const rungs = Array.from({ length: 200 }, (_, k): Entry[] => [
      [k, k, 3],
      ...(k > 0
        ? ([
            [k, k - 1, -1],
            [k - 1, k, -1],
          ] as Entry[])
        : []),
    ]);
    expect(costOf(quickOf(matrixOf(200, rungs.flat()))).fill).toBeLessThan(3);
  });
});

describe("pairing", () => {
  it("gives every column a row of its own with an entry there", () => {
    fc.assert(
      fc.property(conductances, ({ pattern, real }) => {
        const rowOf = pairing(pattern, { real });
        expect(new Set(rowOf).size).toBe(pattern.size);
        const present = new Set(Array.from(pattern.row, (row, s) => row * pattern.size + pattern.column[s]!));
        rowOf!.forEach((row, column) => {
          expect(present.has(row * pattern.size + column)).toBe(true);
        });
      }),
    );
  });

  it("finds none where two rows have but one column between them", () => {
    const { pattern, real } = matrixOf(3, [
      [0, 0, 1],
      [1, 0, 1],
      [2, 1, 1],
      [2, 2, 1],
    ]);
    expect(pairing(pattern, { real })).toBeUndefined();
  });
});

describe("the elimination of large matrices", () => {
  it("solves what a dense LU decomposition solves, with ideal sources, however it is split in two parts", () => {
    fc.assert(
      fc.property(conductances, fc.boolean(), (matrix, split) => {
        const varying = split ? everySecond(matrix.pattern) : new Uint8Array(matrix.real.length);
        const lu = new RealLu(quickOf(matrix, varying), false);
        const slots = Int32Array.from(varying.keys()).filter((slot) => varying[slot] === 1);
        expect(lu.fix(matrix.real.map((value, slot) => (varying[slot] === 1 ? value / 2 : value)))).toBe(
          true,
        );
        expect(
          lu.factor(
            slots,
            Float64Array.from(slots, (slot) => matrix.real[slot]! / 2),
          ),
        ).toBe(true);
        const b = Float64Array.from({ length: matrix.pattern.size }, (_, k) => Math.cos(k));
        const x = new Float64Array(b.length);
        lu.solve(b, x);
        solvedDensely(matrix, b).forEach((value, k) => {
          expect(Math.abs(x[k]! - value)).toBeLessThan(1e-9 * (1 + Math.abs(value)));
        });
      }),
    );
  });

  it("does by machine code in loops what the loops do", () => {
    const size = 40;
    const entries = Array.from({ length: size * size }, (_, k): Entry => {
      const [row, column] = [Math.floor(k / size), k % size];
      return [row, column, row === column ? size : Math.sin(3 * k)];
    });
    const matrix = matrixOf(size, entries);
    const varying = new Uint8Array(entries.length).fill(1);
    const c = Float64Array.from(entries, (_, k) => Math.cos(5 * k));
    const elimination = quickOf(matrix, varying);
    const [fast, plain] = [new ComplexLu(elimination), new ComplexLu(elimination, "never")];
    expect([fast.pairs, plain.pairs]).toEqual([false, true]);
    for (const lu of [fast, plain]) {
      expect(lu.fix(matrix.real, c)).toBe(true);
      expect(lu.factor(2)).toBe(true);
      lu.drive(Float64Array.from({ length: size }, (_, k) => k));
      lu.solve();
    }
    for (let k = 0; k < size; k++) {
      expect(Math.abs(fast.re(k) - plain.re(k))).toBeLessThan(1e-13);
      expect(Math.abs(fast.im(k) - plain.im(k))).toBeLessThan(1e-13);
    }
    expect(fast.fix(new Float64Array(entries.length), c.fill(0))).toBe(true);
    expect(fast.factor(2)).toBe(false);
  });

  it("looks at the values after all where the quick order meets a pivot of nothing", () => {
    const blocks = 200;
    const entries = Array.from({ length: blocks }, (_, k): Entry[] =>
      (
        [
          [0, 0],
          [0, 1],
          [1, 0],
          [1, 1],
          [1, 2],
          [2, 1],
          [2, 2],
        ] as const
      ).map(([row, column]): Entry => [3 * k + row, 3 * k + column, 1]),
    ).flat();
    const matrix = matrixOf(3 * blocks, entries);
    // the last of each block waits; the middle one is left with 1 − 1 for a pivot
    const last = Int32Array.from(entries.keys()).filter((slot) => matrix.pattern.row[slot]! % 3 === 2);
    const varying = last.filter((slot) => matrix.pattern.column[slot]! % 3 === 2);
    const jacobian = new Jacobian(matrix.pattern, varying, new Float64Array(3 * blocks).fill(1));
    jacobian.constant.set(matrix.real);
    const b = Float64Array.from({ length: 3 * blocks }, (_, k) => Math.cos(k));
    const x = new Float64Array(b.length);
    expect(jacobian.solve(b, x)).toBeUndefined();
    solvedDensely(matrix, b).forEach((value, k) => {
      expect(x[k]).toBeCloseTo(value, 10);
    });
  });

  it("names what nothing determines in a large matrix, too", () => {
    const size = 600;
    const entries = Array.from({ length: size }, (_, k): Entry => [k, k, k === 300 ? 0 : 1]);
    const matrix = matrixOf(size, entries);
    const jacobian = new Jacobian(matrix.pattern, new Int32Array(), new Float64Array(size).fill(1));
    jacobian.constant.set(matrix.real);
    expect(jacobian.solve(new Float64Array(size), new Float64Array(size))).toEqual([300]);
  });
});

describe("a large circuit", () => {
  it("satisfies its equations at direct current and at any frequency, with batteries and coils in it", () => {
    const side = 28;
    const net = (x: number, y: number) => `n${x}_${y}`;
    const drafts: Draft[] = [generator("G1", net(0, 0), "chassis", 600)];
    for (let y = 0; y < side; y++) {
      for (let x = 0; x < side; x++) {
        const [here, k] = [net(x, y), drafts.length];
        if (x > 0) drafts.push(ohms(`R${k}`, 100 + (k % 7) * 300, net(x - 1, y), here));
        if (y > 0 && k % 5 === 0)
          drafts.push(draft("inductor", `L${k}`, { inductance: 0.1, dcr: 50 }, net(x, y - 1), here));
        else if (y > 0) drafts.push(ohms(`R${k}b`, 1e3 + (k % 11) * 1e3, net(x, y - 1), here));
        drafts.push(farads(`C${k}`, 1e-9 * (1 + (k % 13)), here, "chassis"));
        if (k % 17 === 0)
          drafts.push(battery(`B${k}`, 9, `m${k}`, "chassis"), ohms(`R${k}c`, 1e4, here, `m${k}`));
      }
    }
    const point = operatingPoint(network(build(drafts), { ambientCelsius: 25, isothermal: false }));
    if (!isSolved(point)) throw new Error(point.failure);
    expect(point.residual).toBeLessThan(1e-13);
    const smallSignal = new SmallSignal(point);
    const { size, row, column } = smallSignal.pattern;
    for (const hertz of [1, 1e3, 1e6]) {
      expect(smallSignal.tune(hertz)).toBeUndefined();
      smallSignal.drive(0);
      const left = Array.from({ length: size }, () => ({ re: 0, im: 0, largest: 0 }));
      row.forEach((r, s) => {
        const { re, im } = smallSignal.at(column[s]!);
        const [g, b] = [smallSignal.g[s]!, 2 * Math.PI * hertz * smallSignal.c[s]!];
        left[r]!.re += g * re - b * im;
        left[r]!.im += g * im + b * re;
        left[r]!.largest = Math.max(left[r]!.largest, Math.hypot(g, b) * Math.hypot(re, im));
      });
      const { row: signalRow, value } = point.network.stamps.signal;
      signalRow.forEach((r, k) => {
        left[r]!.re -= value[k]!;
      });
      for (const { re, im, largest } of left) expect(Math.hypot(re, im)).toBeLessThanOrEqual(1e-11 * largest);
    }
  });
});
