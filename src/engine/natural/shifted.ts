import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import type { Phasor } from "../small-signal.ts";
import { balance } from "./balance.ts";
import { type Pencil, PencilSolver } from "./pencil.ts";
import { vectorOf } from "./vector.ts";

/**
 * Rough natural frequencies s whose size lies between σ/reach and σ·reach, from the eigenvalues µ of
 * (G + σC)⁻¹·σC: s = σ − σ/µ. Modes at infinity have µ = 0 and drop out by themselves; those near σ have a µ
 * of about 1 and come out best. Only the columns that C touches are worked with.
 */
export function nearShift(pencil: Pencil, sigma: number, reach: number): Phasor[] {
  const matrix = shifted(pencil, sigma);
  if (matrix === undefined || matrix.length === 0) return [];
  balance(matrix);
  const { realEigenvalues, imaginaryEigenvalues } = new EigenvalueDecomposition(
    new Matrix(matrix.map((row) => Array.from(row))),
    { assumeSymmetric: false },
  );
  return realEigenvalues.flatMap((re, k) => {
    const im = imaginaryEigenvalues[k] ?? 0;
    const norm = re * re + im * im;
    const s = { re: sigma * (1 - re / norm), im: (sigma * im) / norm };
    const ratio = Math.hypot(s.re, s.im) / sigma;
    return s.im >= 0 && ratio > 1 / reach && ratio < reach ? [s] : [];
  });
}

/** (G + σC)⁻¹·σC, rows and columns of those unknowns that C touches; nothing if σ is an eigenvalue itself. */
function shifted(pencil: Pencil, sigma: number): Float64Array[] | undefined {
  const { pattern, c } = pencil;
  const solver = new PencilSolver(pencil);
  if (!solver.tune({ re: sigma, im: 0 })) return undefined;
  const columns = columnsOf(pencil);
  const touched = [...columns.keys()];
  const b = vectorOf(pattern.size);
  const x = vectorOf(pattern.size);
  const matrix = touched.map(() => new Float64Array(touched.length));
  touched.forEach((column, j) => {
    b.re.fill(0);
    for (const slot of columns.get(column)!) b.re[pattern.row[slot]!]! += sigma * c[slot]!;
    solver.solve(b, x);
    for (let i = 0; i < touched.length; i++) matrix[i]![j] = x.re[touched[i]!]!;
  });
  return matrix.every((row) => row.every(Number.isFinite)) ? matrix : undefined;
}

/** Slots of C by column, without the zeros. */
function columnsOf({ pattern, c }: Pencil): Map<number, number[]> {
  const columns = new Map<number, number[]>();
  for (let slot = 0; slot < c.length; slot++) {
    if (c[slot] === 0) continue;
    const column = pattern.column[slot]!;
    const list = columns.get(column);
    if (list === undefined) columns.set(column, [slot]);
    else list.push(slot);
  }
  return columns;
}
