import { record } from "../kernel/elimination.ts";
import { order } from "../kernel/order.ts";
import { RealLu } from "../kernel/real-lu.ts";
import type { Phasor } from "../small-signal.ts";
import { balance } from "./balance.ts";
import { eigenvalues } from "./eigenvalues.ts";
import type { Pencil } from "./pencil.ts";

/**
 * Rough natural frequencies s whose size lies between σ/reach and σ·reach, from the eigenvalues µ of
 * (G + σC)⁻¹·σC: s = σ − σ/µ. Modes at infinity have µ = 0 and drop out by themselves; those near σ have a µ
 * of about 1 and come out best. Only the columns that C touches are worked with.
 */
export function nearShift(pencil: Pencil, sigma: number, reach: number): Phasor[] {
  const matrix = shifted(pencil, sigma);
  if (matrix === undefined || matrix.length === 0) return [];
  balance(matrix);
  return eigenvalues(matrix).flatMap(({ re, im }) => {
    const norm = re * re + im * im;
    const s = { re: sigma * (1 - re / norm), im: (sigma * im) / norm };
    const ratio = Math.hypot(s.re, s.im) / sigma;
    return s.im >= 0 && ratio > 1 / reach && ratio < reach ? [s] : [];
  });
}

/** (G + σC)⁻¹·σC, rows and columns of those unknowns that C touches; nothing if σ is an eigenvalue itself. */
function shifted(pencil: Pencil, sigma: number): Float64Array[] | undefined {
  const { pattern, c } = pencil;
  const solve = solverAt(pencil, sigma);
  if (solve === undefined) return undefined;
  const columns = columnsOf(pencil);
  const touched = [...columns.keys()];
  const b = new Float64Array(pattern.size);
  const x = new Float64Array(pattern.size);
  const matrix = touched.map(() => new Float64Array(touched.length));
  touched.forEach((column, j) => {
    b.fill(0);
    for (const slot of columns.get(column)!) b[pattern.row[slot]!]! += sigma * c[slot]!;
    solve(b, x);
    for (let i = 0; i < touched.length; i++) matrix[i]![j] = x[touched[i]!]!;
  });
  return matrix.every((row) => row.every(Number.isFinite)) ? matrix : undefined;
}

type Solve = (b: Float64Array, x: Float64Array) => void;

/** x ← (G + σC)⁻¹·b, with what the rounding left of the residual put right. */
function solverAt({ pattern, g, c, columnScale }: Pencil, sigma: number): Solve | undefined {
  const real = g.map((value, slot) => value + sigma * c[slot]!);
  const varying = Uint8Array.from(c, (value) => (value === 0 ? 0 : 1));
  const ordering = order(pattern, { real, columnScale, varying });
  if ("singularColumns" in ordering) return undefined;
  const lu = new RealLu(record(pattern, ordering, varying), false);
  lu.fix(real);
  lu.factor(new Int32Array(), new Float64Array());
  const residual = new Float64Array(pattern.size);
  return (b, x) => {
    lu.solve(b, x);
    residual.set(b);
    for (let slot = 0; slot < real.length; slot++)
      residual[pattern.row[slot]!]! -= real[slot]! * x[pattern.column[slot]!]!;
    lu.solve(residual, residual);
    for (let k = 0; k < x.length; k++) x[k]! += residual[k]!;
  };
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
