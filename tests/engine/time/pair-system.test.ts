import fc from "fast-check";
import { LuDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import type { DevicePlaces } from "../../../src/engine/kernel/load-places.ts";
import { PairSystem } from "../../../src/engine/kernel/pair-system.ts";
import { PatternBuilder } from "../../../src/engine/kernel/pattern.ts";

const number = fc.double({ min: -1, max: 1, noNaN: true });

/** Random systems: conductances with a dominant diagonal, some slots with a capacitance, devices of two unknowns. */
const systems = fc.record({
  size: fc.integer({ min: 2, max: 14 }),
  entries: fc.array(fc.tuple(fc.nat(), fc.nat(), fc.constantFrom("constant", "reactive", "bends")), {
    maxLength: 40,
  }),
  devices: fc.array(fc.tuple(fc.nat(), fc.nat()), { maxLength: 4 }),
  numbers: fc.array(number, { minLength: 300, maxLength: 300 }),
});
type Random = typeof systems extends fc.Arbitrary<infer T> ? T : never;

function build({ size, entries, devices, numbers }: Random, compiling: "at once" | "never"): PairSystem {
  const builder = new PatternBuilder(size);
  const slot = (row: number, column: number) => builder.slot(row % size, column % size);
  for (let k = 0; k < size; k++) slot(k, k);
  const reactive = new Set<number>();
  const bends = new Set<number>();
  for (const [row, column, kind] of entries) {
    const s = slot(row, column);
    if (kind === "reactive") reactive.add(s);
    if (kind === "bends") bends.add(s);
  }
  const places = devices.map(([a, b]): DevicePlaces => {
    const unknown = Int32Array.of(a % size, (a + 1 + (b % (size - 1))) % size);
    const slots = Int32Array.from([0, 1, 2, 3], (k) => slot(unknown[k >> 1]!, unknown[k & 1]!));
    for (const s of slots) {
      bends.add(s);
      reactive.add(s);
    }
    const at = Int32Array.of(0, 1, 2, 3);
    const own = { slopeAt: at, slopeSlot: slots, chargeAt: at, chargeSlot: slots };
    return {
      size: 2,
      local: Int32Array.of(0, 1),
      unknown,
      ...own,
      bends: [
        [0, 1],
        [1, -1],
      ],
    };
  });
  const pattern = builder.finish();
  const marked = (set: Set<number>) => Uint8Array.from(pattern.row, (_, s) => (set.has(s) ? 1 : 0));
  const hasCharge = new Uint8Array(size);
  for (const s of reactive) hasCharge[pattern.row[s]!] = 1;
  const kinds = { reactive: marked(reactive), bends: marked(bends), hasCharge, devices: places };
  const system = new PairSystem(pattern, kinds, new Float64Array(size).fill(1), compiling);
  fill(system, numbers, kinds.reactive);
  return system;
}

function fill({ pattern, memory }: PairSystem, numbers: readonly number[], reactive: Uint8Array): void {
  let next = 0;
  const draw = () => numbers[next++ % numbers.length]!;
  for (let s = 0; s < pattern.row.length; s++) {
    memory.linearG[s] = draw() + (pattern.row[s] === pattern.column[s] ? 30 : 0);
    memory.linearC[s] = reactive[s] === 1 ? draw() : 0;
    memory.g[3 * s] = memory.g[3 * s + 2] = memory.linearG[s]!;
    memory.c[2 * s] = memory.c[2 * s + 1] = memory.linearC[s]!;
  }
  const { x, source, startF, startQ, weight } = memory;
  for (const list of [x, source, startF, startQ]) for (let k = 0; k < list.length; k++) list[k] = draw();
  for (let k = 0; k < weight.length; k++) weight[k] = 0.1 + Math.abs(draw());
  for (const point of memory.taken.flat()) {
    const { currents, charges } = point;
    for (const list of [point.x, currents.current, currents.slope, charges.current, charges.slope])
      for (let k = 0; k < list.length; k++) list[k] = draw();
    for (let k = 0; k < point.perVolt.length; k++) point.perVolt[k] = Math.abs(draw());
  }
  memory.coefficients.set([2, -8, 0.5, 4]);
  memory.startWeight.set([-0.5, 1]);
}

/** Points in time, and weights of theirs. */
function fillPoints({ memory }: PairSystem, numbers: readonly number[]): void {
  let next = 7;
  const draw = () => numbers[next++ % numbers.length]!;
  const { points, guessWeights, bendWeights, gapWeights, storedWeight, gapWeight } = memory;
  const lists = [guessWeights, bendWeights, gapWeights, storedWeight, gapWeight];
  for (const list of [...points.flatMap(({ state, f }) => [state, f]), ...lists])
    for (let k = 0; k < list.length; k++) list[k] = draw();
  for (const list of [storedWeight, gapWeight])
    for (let k = 0; k < list.length; k++) list[k] = Math.abs(list[k]!);
}

/** One Newton iteration; the change, and how far off their tangents the devices were. */
function iterate(system: PairSystem): readonly [change: number, off: number] {
  expect(system.factor()).toBe(true);
  const { work } = system;
  const off = work.moved();
  work.linear();
  work.load();
  work.slopes();
  expect(system.factor()).toBe(true);
  work.residual();
  work.solve();
  return [work.correct(), off];
}

const near = (a: Float64Array, b: Float64Array) => {
  const scale = Math.max(...a.map(Math.abs), 1);
  for (let k = 0; k < a.length; k++) expect(Math.abs(a[k]! - b[k]!)).toBeLessThan(1e-9 * scale);
};

describe("a system at two points side by side", () => {
  it("is worked on alike by machine code and by loops", () => {
    fc.assert(
      fc.property(systems, (random) => {
        const [code, loops] = [build(random, "at once"), build(random, "never")];
        const [[change, off], [changeByLoops, offByLoops]] = [iterate(code), iterate(loops)];
        expect(code.compiled).toBe(true);
        expect(loops.compiled).toBe(false);
        expect(Math.abs(change - changeByLoops)).toBeLessThan(1e-9 * Math.max(1, changeByLoops));
        expect(off).toBeCloseTo(offByLoops, 12);
        expect(off).toBe(Math.max(0, ...code.memory.bends));
        for (const key of ["f", "q", "g", "c", "residual", "dx", "x", "bends"] as const)
          near(code.memory[key], loops.memory[key]);
      }),
    );
  });

  it("guesses, takes and judges points in time alike by machine code and by loops", () => {
    fc.assert(
      fc.property(systems, (random) => {
        const pair = [build(random, "at once"), build(random, "never")] as const;
        const gaps = pair.map((system) => {
          iterate(system);
          const { memory, work } = system;
          work.take(5, 6);
          for (const key of ["x", "f", "q"] as const) {
            const list = key === "x" ? "state" : key;
            for (const half of [0, 1])
              expect([...memory.points[5 + half]![list]]).toEqual(
                [...memory[key]].filter((_, k) => k % 2 === half),
              );
          }
          fillPoints(system, random.numbers);
          work.history(0, 1, 2, 3, 4);
          work.guess(3, 1, 4, 2);
          return work.gaps(0, 1, 2, 3, 4);
        });
        expect(Math.abs(gaps[0]! - gaps[1]!)).toBeLessThan(1e-9 * Math.max(1, gaps[1]!));
        for (const key of ["residual", "x"] as const) near(pair[0].memory[key], pair[1].memory[key]);
      }),
    );
  });

  it("gives the largest of what five points bend and of what has been solved, each by its weight", () => {
    const random = { size: 3, entries: [], devices: [], numbers: new Array<number>(300).fill(0.5) };
    for (const compiling of ["at once", "never"] as const) {
      const system = build(random, compiling);
      iterate(system);
      const { memory, work } = system;
      memory.gapWeights.set([1, -4, 6, -4, 1, 0.25]);
      for (let n = 0; n < 5; n++) memory.points[n]!.state.set([n ** 3, n ** 4, 1]);
      memory.dx.fill(0).set([9, 2], 2);
      memory.gapWeight.set([1, 2, 1]);
      expect(work.gaps(0, 1, 2, 3, 4)).toBeCloseTo(2 * (24 - 0.25), 12);
      memory.storedWeight.set([1, 30, 1]);
      expect(work.gaps(0, 1, 2, 3, 4)).toBeCloseTo(60, 12);
    }
  });

  it("solves what a dense elimination solves", () => {
    fc.assert(
      fc.property(systems, (random) => {
        const system = build(random, "at once");
        iterate(system);
        const { pattern, memory, kinds } = system;
        const n = pattern.size;
        const dense = Matrix.zeros(2 * n, 2 * n);
        const m = memory.coefficients;
        for (let s = 0; s < pattern.row.length; s++) {
          const c = (point: number) => (kinds.reactive[s] === 1 ? memory.c[2 * s + point]! : 0);
          const [row, column] = [2 * pattern.row[s]!, 2 * pattern.column[s]!];
          dense.set(row, column, memory.g[3 * s]! + m[0]! * c(0));
          dense.set(row, column + 1, m[2]! * c(1));
          dense.set(row + 1, column, m[1]! * c(0));
          dense.set(row + 1, column + 1, memory.g[3 * s + 2]! + m[3]! * c(1));
        }
        const exact = new LuDecomposition(dense).solve(Matrix.columnVector(memory.residual)).to1DArray();
        near(memory.dx, Float64Array.from(exact));
      }),
    );
  });

  it("returns no number for a correction that is none, wherever it stands", () => {
    const random = { size: 3, entries: [], devices: [], numbers: new Array<number>(300).fill(0.5) };
    for (const compiling of ["at once", "never"] as const) {
      const system = build(random, compiling);
      iterate(system);
      for (const value of [Number.NaN, Number.POSITIVE_INFINITY]) {
        for (let k = 0; k < 6; k++) {
          system.memory.dx.fill(1);
          system.memory.dx[k] = value;
          expect(Number.isFinite(system.work.correct())).toBe(false);
        }
      }
    }
  });

  it("says when nothing determines an unknown", () => {
    const builder = new PatternBuilder(2);
    builder.slot(0, 0);
    builder.slot(1, 0);
    const zero = () => new Uint8Array(2);
    const kinds = { reactive: zero(), bends: zero(), hasCharge: zero(), devices: [] };
    const system = new PairSystem(builder.finish(), kinds, new Float64Array(2).fill(1));
    system.memory.g.fill(1);
    expect(system.factor()).toBe(false);
  });
});
