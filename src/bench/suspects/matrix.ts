/** Symmetric positive definite matrices, row-major squares of side n. */

/** In place the lower Cholesky factor; false if the matrix is not positive definite. */
export function cholesky(a: Float64Array, n: number): boolean {
  for (let j = 0; j < n; j++) {
    let pivot = a[j * n + j]!;
    for (let k = 0; k < j; k++) pivot -= a[j * n + k]! ** 2;
    if (!(pivot > 0)) return false;
    const root = Math.sqrt(pivot);
    a[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
      a[i * n + j] = sum / root;
    }
  }
  return true;
}

/** x ← (L·Lᵀ)⁻¹·b, in place. */
export function solveCholesky(l: Float64Array, n: number, x: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = x[i]!;
    for (let k = 0; k < i; k++) sum -= l[i * n + k]! * x[k]!;
    x[i] = sum / l[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = x[i]!;
    for (let k = i + 1; k < n; k++) sum -= l[k * n + i]! * x[k]!;
    x[i] = sum / l[i * n + i]!;
  }
}

/** Diagonal of (L·Lᵀ)⁻¹: sums of squares down the columns of L⁻¹. */
export function inverseDiagonal(l: Float64Array, n: number): Float64Array {
  const diagonal = new Float64Array(n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    column.fill(0, 0, j);
    for (let i = j; i < n; i++) {
      let sum = i === j ? 1 : 0;
      for (let k = j; k < i; k++) sum -= l[i * n + k]! * column[k]!;
      column[i] = sum / l[i * n + i]!;
      diagonal[j]! += column[i]! ** 2;
    }
  }
  return diagonal;
}
