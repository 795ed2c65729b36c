import { EigenvalueDecomposition, Matrix, solve } from "ml-matrix";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { modesOf, withPartStates } from "../../src/circuit/conditions.ts";
import { network } from "../../src/engine/network.ts";
import { isSolved, operatingPoint } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";

/** A natural frequency: e^(growth·t) at so many hertz. */
export interface Natural {
  readonly hertz: number;
  readonly growth: number;
}

/** Between the slowest and the fastest of the modes looked for, rad/s. */
const SHIFT = 1e6;

/**
 * Dense yardstick: s with det(G + s·C) = 0, from the eigenvalues µ of (G + σC)⁻¹·σC, s = σ − σ/µ. Modes
 * above a tenth of a gigahertz are left out: they lie beyond what the transistors' equations describe.
 */
export function naturalFrequencies(
  circuit: Circuit,
  modeName: string,
  set: Parameters<typeof withPartStates>[1] = [],
  ambientCelsius = circuit.ambientCelsius,
): readonly Natural[] {
  const mode = modesOf(circuit).find(({ name }) => name === modeName);
  const standing = withPartStates(circuit, [...(mode?.states ?? []), ...set]);
  const point = operatingPoint(network(standing, { ambientCelsius, isothermal: false }));
  if (!isSolved(point)) throw new Error(`${modeName} has no operating point`);
  const { pattern, g, c } = new SmallSignal(point);
  const n = point.network.unknowns.electrical;
  const conductance = Matrix.zeros(n, n);
  const capacitance = Matrix.zeros(n, n);
  pattern.row.forEach((row, slot) => {
    const column = pattern.column[slot] ?? 0;
    conductance.set(row, column, conductance.get(row, column) + (g[slot] ?? 0));
    capacitance.set(row, column, capacitance.get(row, column) + SHIFT * (c[slot] ?? 0));
  });
  const { realEigenvalues, imaginaryEigenvalues } = new EigenvalueDecomposition(
    solve(Matrix.add(conductance, capacitance), capacitance),
  );
  return realEigenvalues
    .map((re, k): Natural => {
      const im = imaginaryEigenvalues[k] ?? 0;
      const size = re * re + im * im;
      return { growth: SHIFT * (1 - re / size), hertz: (SHIFT * im) / size / (2 * Math.PI) };
    })
    .filter(({ growth, hertz }) => hertz >= 0 && Math.hypot(growth, 2 * Math.PI * hertz) < 2 * Math.PI * 1e8);
}

/** Those that grow by more than rounding can explain. */
export const growing = (all: readonly Natural[]): readonly Natural[] =>
  all.filter(({ growth }) => growth > 1e-3);
