import { type ComplexReplay, LANES, STRIDE } from "./complex-replay.ts";
import type { Elimination } from "./elimination.ts";
import type { FixedStage } from "./fixed-stage.ts";

/**
 * Solves Uᵀ·t = w, then Lᵀ·z = t, in place and by place in the elimination. Rows of the fixed stage have
 * real entries in its array; the others have the replay's first lane, but for multiples of fixed rows.
 */
export function transposedSolve(
  elimination: Elimination,
  stage: FixedStage,
  replay: ComplexReplay,
  re: Float64Array,
  im: Float64Array,
): void {
  const { size, fixed, start, firstVarying, diagonal, column } = elimination;
  const { entries, inverse: fixedInverse } = stage;
  const { lu, inverse } = replay;
  for (let i = 0; i < fixed; i++) {
    re[i] *= fixedInverse[i];
    im[i] *= fixedInverse[i];
    for (let e = diagonal[i] + 1; e < start[i + 1]; e++) {
      re[column[e]] -= entries[e] * re[i];
      im[column[e]] -= entries[e] * im[i];
    }
  }
  for (let i = fixed; i < size; i++) {
    const tRe = re[i] * inverse[STRIDE * i] - im[i] * inverse[STRIDE * i + LANES];
    const tIm = re[i] * inverse[STRIDE * i + LANES] + im[i] * inverse[STRIDE * i];
    re[i] = tRe;
    im[i] = tIm;
    for (let e = diagonal[i] + 1; e < start[i + 1]; e++) subtract(re, im, column[e], lu, e, tRe, tIm);
  }
  for (let i = size - 1; i >= 0; i--) {
    for (let e = firstVarying[i]; e < diagonal[i]; e++) subtract(re, im, column[e], lu, e, re[i], im[i]);
    for (let e = start[i]; e < firstVarying[i]; e++) {
      re[column[e]] -= entries[e] * re[i];
      im[column[e]] -= entries[e] * im[i];
    }
  }
}

/** Takes the product of entry e and (tRe, tIm) from place k. */
function subtract(
  re: Float64Array,
  im: Float64Array,
  k: number,
  lu: Float64Array,
  e: number,
  tRe: number,
  tIm: number,
): void {
  re[k] -= lu[STRIDE * e] * tRe - lu[STRIDE * e + LANES] * tIm;
  im[k] -= lu[STRIDE * e] * tIm + lu[STRIDE * e + LANES] * tRe;
}
