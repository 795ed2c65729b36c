import fc from "fast-check";
import { LuDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { network } from "../../src/engine/network.ts";
import { isSolved, operatingPoint } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { build, type Draft, draft, farads, generator } from "./build.ts";
import { randomAmplifier, randomPassive } from "./random-circuits.ts";

const HERTZ = [1, 300, 100e3];

/** The same linear system as one real matrix [G −ωC; ωC G], solved densely. */
function dense(smallSignal: SmallSignal, omega: number, driven: number): Float64Array {
  const { size, row, column } = smallSignal.pattern;
  const matrix = Matrix.zeros(2 * size, 2 * size);
  row.forEach((r, slot) => {
    const c = column[slot]!;
    const [re, im] = [smallSignal.g[slot]!, omega * smallSignal.c[slot]!];
    for (const [i, j, value] of [
      [r, c, re],
      [r, c + size, -im],
      [r + size, c, im],
      [r + size, c + size, re],
    ] as const) {
      matrix.set(i, j, matrix.get(i, j) + value);
    }
  });
  const b = Matrix.zeros(2 * size, 1);
  b.set(driven, 0, 1);
  return Float64Array.from(new LuDecomposition(matrix).solve(b).to1DArray());
}

/** Voltages of all nets by both ways, for a circuit driven from n0. */
function compare(drafts: readonly Draft[], types: Parameters<typeof build>[1], tolerance: number): void {
  const circuit = build([...drafts, generator("GX", "n0", "chassis", 600)], types);
  const point = operatingPoint(network(circuit, { ambientCelsius: 25, isothermal: false }));
  fc.pre(isSolved(point));
  if (!isSolved(point)) return;
  const smallSignal = new SmallSignal(point);
  const source = circuit.parts.length - 1;
  const { net, locals, electrical } = point.network.unknowns;
  for (const hertz of HERTZ) {
    expect(smallSignal.tune(hertz)).toBeUndefined();
    smallSignal.drive(source);
    const expected = dense(smallSignal, 2 * Math.PI * hertz, locals[source]![2]!);
    const size = Math.max(
      ...circuit.nets.map((_, k) => Math.hypot(smallSignal.voltage(k).re, smallSignal.voltage(k).im)),
    );
    circuit.nets.forEach((_, k) => {
      const unknown = net[k]!;
      if (unknown >= electrical) return;
      const { re, im } = smallSignal.voltage(k);
      expect(Math.abs(re - expected[unknown]!)).toBeLessThanOrEqual(tolerance * size);
      expect(Math.abs(im - expected[unknown + electrical]!)).toBeLessThanOrEqual(tolerance * size);
    });
  }
}

describe("the small-signal solution", () => {
  it("agrees with a dense LU decomposition on random passive networks", () => {
    fc.assert(fc.property(randomPassive, (drafts) => compare(drafts, [], 1e-9)));
  });

  it("agrees with a dense LU decomposition on random transistor circuits", () => {
    fc.assert(
      fc.property(randomAmplifier, ({ drafts, types }) => compare(drafts, types, 1e-8)),
      { numRuns: 300 },
    );
  });

  it("puts the matrix in a new order where a pivot turns small, and stays exact there", () => {
    const [capacitance, inductance, source] = [1e-6, 1, 600];
    const circuit = build([
      generator("G1", "a", "chassis", source),
      farads("C1", capacitance, "a", "chassis"),
      draft("inductor", "L1", { inductance, dcr: 0 }, "a", "chassis"),
    ]);
    const point = operatingPoint(network(circuit, { ambientCelsius: 25, isothermal: false }));
    if (!isSolved(point)) throw new Error("unsolved");
    const smallSignal = new SmallSignal(point);
    const node = circuit.nets.findIndex(({ name }) => name === "a");
    for (const hertz of [1e-3, 1e9, 1e-3]) {
      expect(smallSignal.tune(hertz)).toBeUndefined();
      smallSignal.drive(0);
      const omega = 2 * Math.PI * hertz;
      // 1/(1 + jx), x the tank's susceptance times the source resistance
      const x = source * (omega * capacitance - 1 / (omega * inductance));
      const { re, im } = smallSignal.voltage(node);
      expect(re * (1 + x * x)).toBeCloseTo(1, 9);
      expect((im * (1 + x * x)) / -x).toBeCloseTo(1, 9);
    }
    expect(smallSignal.orderings).toBeGreaterThan(1);
  });
});
