/** Rows and columns are scaled by powers of this, which rounds nothing. */
const RADIX = 2;
/** A pass that gains less than this share is the last. */
const WORTHWHILE = 0.95;
const MOST_PASSES = 100;

/**
 * Balances a square matrix in place by D⁻¹·A·D, after Osborne (1960) and Parlett & Reinsch (1969): row and
 * column norms are brought to one size, so that small eigenvalues are not drowned by the rounding of
 * large entries. The eigenvalues stay.
 */
export function balance(a: readonly Float64Array[]): void {
  for (let pass = 0; pass < MOST_PASSES; pass++) {
    let changed = false;
    for (let k = 0; k < a.length; k++) if (balanceOne(a, k)) changed = true;
    if (!changed) return;
  }
}

function balanceOne(a: readonly Float64Array[], k: number): boolean {
  const { row, column } = norms(a, k);
  if (row === 0 || column === 0) return false;
  const exponent = Math.round(Math.log2(row / column) / 2);
  const factor = RADIX ** exponent;
  if (exponent === 0 || (column * factor + row / factor) / (column + row) >= WORTHWHILE) return false;
  for (let i = 0; i < a.length; i++) a[k]![i]! /= factor;
  for (let i = 0; i < a.length; i++) a[i]![k]! *= factor;
  return true;
}

/** Sizes of the row and the column of place `k`, without the diagonal. */
function norms(a: readonly Float64Array[], k: number) {
  let row = 0;
  let column = 0;
  for (let i = 0; i < a.length; i++) {
    if (i === k) continue;
    row += Math.abs(a[k]![i]!);
    column += Math.abs(a[i]![k]!);
  }
  return { row, column };
}
