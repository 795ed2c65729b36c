import { cholesky, inverseDiagonal, solveCholesky } from "./matrix.ts";

/** Chance that any one reading is a slip: the wrong pin, the wrong range, a figure misread; no source. */
export const SLIP = 0.01;
/** Degrees of freedom of the tails: linearised spreads of parts within limits are not normal far out. */
const TAILS = 12;

/** How well readings fit a prediction. */
export interface Fit {
  /** Natural logarithm of the density. */
  readonly logLikelihood: number;
  /** Squared distance in standard deviations, the worst reading left out if a slip is likelier. */
  readonly distance: number;
  /** The reading (index) that is probably a slip. */
  readonly slip?: number;
  /** Σ⁻¹·(readings − prediction), the slip left out. */
  readonly weighted: Float64Array;
}

/** ln Γ(x) for x > 0 (Lanczos 1964, g = 5, six terms). */
function logGamma(x: number): number {
  const terms = [
    76.18009172947146, -86.5053203294168, 24.01409824083091, -1.231739572450155, 1.208650973866179e-3,
    -5.395239384953e-6,
  ];
  const series = terms.reduce((sum, term, k) => sum + term / (x + 1 + k), 1.000000000190015);
  const shifted = x + 5.5;
  return (x + 0.5) * Math.log(shifted) - shifted + Math.log((2.506628274631 * series) / x);
}

/** Logarithm of the density of a multivariate t with `n` components at squared distance `q`. */
function density(q: number, logDeterminant: number, n: number): number {
  return (
    logGamma((TAILS + n) / 2) -
    logGamma(TAILS / 2) -
    (n / 2) * Math.log(TAILS * Math.PI) -
    logDeterminant / 2 -
    ((TAILS + n) / 2) * Math.log1p(q / TAILS)
  );
}

/**
 * Fit of residuals `r` with covariance `covariance` (overwritten): all readings right, or any one of them a
 * slip, which may lie anywhere within `range[i]`.
 */
export function fitOf(r: Float64Array, covariance: Float64Array, range: Float64Array): Fit | undefined {
  const n = r.length;
  if (!cholesky(covariance, n)) return undefined;
  const weighted = r.slice();
  solveCholesky(covariance, n, weighted);
  const inverse = inverseDiagonal(covariance, n);
  let q = 0;
  let logDeterminant = 0;
  for (let i = 0; i < n; i++) {
    q += r[i]! * weighted[i]!;
    logDeterminant += 2 * Math.log(covariance[i * n + i]!);
  }
  const right = n * Math.log1p(-SLIP) + density(q, logDeterminant, n);
  let most = right;
  let best = { slip: -1, distance: q };
  const logs = [right];
  for (let i = 0; i < n; i++) {
    const without = q - weighted[i]! ** 2 / inverse[i]!;
    const each =
      Math.log(SLIP / (2 * range[i]!)) +
      (n - 1) * Math.log1p(-SLIP) +
      density(without, logDeterminant + Math.log(inverse[i]!), n - 1);
    logs.push(each);
    if (each <= most) continue;
    most = each;
    best = { slip: i, distance: without };
  }
  const logLikelihood = most + Math.log(logs.reduce((sum, each) => sum + Math.exp(each - most), 0));
  const { slip, distance } = best;
  if (slip < 0) return { logLikelihood, distance, weighted };
  return { logLikelihood, distance, weighted: leftOut(covariance, weighted, inverse, slip), slip };
}

/** Σ⁻¹·r where a reading says nothing: its own share is taken back. */
function leftOut(
  factor: Float64Array,
  weighted: Float64Array,
  inverse: Float64Array,
  slip: number,
): Float64Array {
  const column = new Float64Array(weighted.length);
  column[slip] = 1;
  solveCholesky(factor, weighted.length, column);
  return weighted.map((each, k) => each - (column[k]! * weighted[slip]!) / inverse[slip]!);
}
