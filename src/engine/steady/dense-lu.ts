/** Columns taken together: the rest of the matrix is gone through once for all of them. */
const PANEL = 4;

/** A dense real matrix as its factors, rows one after the other, with the largest pivot of each column. */
export class DenseLu {
  readonly #size: number;
  readonly #matrix: Float64Array;
  readonly #order: Int32Array;

  /** Factors `matrix` in place. */
  constructor(size: number, matrix: Float64Array) {
    this.#size = size;
    this.#matrix = matrix;
    this.#order = Int32Array.from({ length: size }, (_, k) => k);
    for (let first = 0; first < size; first += PANEL) {
      const end = Math.min(size, first + PANEL);
      for (let k = first; k < end; k++) {
        this.#bringUp(k);
        for (let r = k + 1; r < size; r++) this.#eliminate(k, r, end);
      }
      for (let k = first; k < end; k++) this.#finishRow(first, k, end);
      for (let r = end; r < size; r++) this.#reduce(first, end, r);
    }
  }

  /** The row with the largest entry in column k, from row k on, becomes row k. */
  #bringUp(k: number): void {
    const [a, n] = [this.#matrix, this.#size];
    let best = k;
    for (let r = k + 1; r < n; r++) if (Math.abs(a[r * n + k]!) > Math.abs(a[best * n + k]!)) best = r;
    if (best === k) return;
    const row = a.slice(k * n, (k + 1) * n);
    a.copyWithin(k * n, best * n, (best + 1) * n);
    a.set(row, best * n);
    const order = this.#order;
    [order[k], order[best]] = [order[best]!, order[k]!];
  }

  /** Takes row k from row r within the panel. */
  #eliminate(k: number, r: number, end: number): void {
    const [a, n] = [this.#matrix, this.#size];
    const factor = a[r * n + k]! / a[k * n + k]!;
    a[r * n + k] = factor;
    if (factor !== 0) subtract(a, k * n, r * n, k + 1, end, factor);
  }

  /** What is right of the panel in one of its rows. */
  #finishRow(first: number, k: number, end: number): void {
    const [a, n] = [this.#matrix, this.#size];
    for (let m = first; m < k; m++) subtract(a, m * n, k * n, end, n, a[k * n + m]!);
  }

  /** Takes all rows of the panel from row r, right of it. */
  #reduce(first: number, end: number, r: number): void {
    const [a, n] = [this.#matrix, this.#size];
    const own = r * n;
    if (end - first < PANEL) {
      for (let m = first; m < end; m++) subtract(a, m * n, own, end, n, a[own + m]!);
      return;
    }
    const [p, q, s, t] = [first * n, (first + 1) * n, (first + 2) * n, (first + 3) * n];
    const [fp, fq, fs, ft] = [a[own + first]!, a[own + first + 1]!, a[own + first + 2]!, a[own + first + 3]!];
    if (fp === 0 && fq === 0 && fs === 0 && ft === 0) return;
    for (let c = end; c < n; c++)
      a[own + c] = a[own + c]! - fp * a[p + c]! - fq * a[q + c]! - fs * a[s + c]! - ft * a[t + c]!;
  }

  /** The solution for a right-hand side; not finite where the matrix is singular. */
  solve(b: Float64Array): Float64Array<ArrayBuffer> {
    const [a, n] = [this.#matrix, this.#size];
    const x = Float64Array.from(this.#order, (row) => b[row]!);
    for (let r = 1; r < n; r++) {
      let sum = x[r]!;
      for (let c = 0; c < r; c++) sum -= a[r * n + c]! * x[c]!;
      x[r] = sum;
    }
    for (let r = n - 1; r >= 0; r--) {
      let sum = x[r]!;
      for (let c = r + 1; c < n; c++) sum -= a[r * n + c]! * x[c]!;
      x[r] = sum / a[r * n + r]!;
    }
    return x;
  }
}

/** One row less a multiple of another, over columns `from` to `to`. */
function subtract(
  a: Float64Array,
  pivot: number,
  own: number,
  from: number,
  to: number,
  factor: number,
): void {
  for (let c = from; c < to; c++) a[own + c] = a[own + c]! - factor * a[pivot + c]!;
}
