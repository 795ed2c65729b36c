import type { Phasor } from "../small-signal.ts";

type Rows = readonly Float64Array[];

/** A subdiagonal entry smaller than this beside its neighbours on the diagonal is 0. */
const ROUNDING = 2 ** -52;
/** An eigenvalue that does not come is helped by a shift of another kind after so many steps, and given up at last. */
const STUBBORN = 10;
const MOST_STEPS = 60;
/** Wilkinson's exceptional shift. */
const EXCEPTIONAL_SUM = 0.75;
const EXCEPTIONAL_PRODUCT = -0.4375;

/**
 * Eigenvalues of a square real matrix, which is used up: Householder's Hessenberg form, then QR steps with two
 * shifts at a time. The few that do not come, if any, are left out.
 * Source: Wilkinson & Reinsch, Handbook for Automatic Computation II, Linear Algebra, II/13 and II/14 (orthes, hqr).
 */
export function eigenvalues(a: Rows): Phasor[] {
  toHessenberg(a);
  const norm = a.reduce((sum, row) => row.reduce((all, value) => all + Math.abs(value), sum), 0);
  const found: Phasor[] = [];
  let last = a.length - 1;
  let moved = 0;
  for (let steps = 0; last >= 0; steps++) {
    const first = blockStart(a, last, norm);
    if (first < last - 1 && steps < MOST_STEPS) {
      if (steps > 0 && steps % STUBBORN === 0) moved += moveOrigin(a, last);
      doubleStep(a, first, last, shiftsAt(a, last, steps));
      continue;
    }
    if (first === last) found.push({ re: a[last]![last]! + moved, im: 0 });
    else if (first === last - 1) found.push(...pairAt(a, last, moved));
    last = Math.min(first, last) - 1;
    steps = -1;
  }
  return found;
}

/** Takes away what lies below the subdiagonal, by reflections from both sides. */
function toHessenberg(a: Rows): void {
  const v = new Float64Array(a.length);
  for (let m = 1; m < a.length - 1; m++) {
    const beta = reflection(a, m, v);
    if (beta !== 0) reflect(a, m, v, beta);
  }
}

/** Householder's v that turns column m − 1 below row m to nothing; returns 2/vᵀv, or 0 if there is nothing to do. */
function reflection(a: Rows, m: number, v: Float64Array): number {
  let below = 0;
  let largest = 0;
  for (let i = m; i < a.length; i++) {
    v[i] = a[i]![m - 1]!;
    largest = Math.max(largest, Math.abs(v[i]!));
    if (i > m) below = Math.max(below, Math.abs(v[i]!));
  }
  if (below === 0) return 0;
  let square = 0;
  for (let i = m; i < a.length; i++) {
    v[i]! /= largest;
    square += v[i]! * v[i]!;
  }
  const length = Math.sqrt(square);
  v[m]! += v[m]! < 0 ? -length : length;
  return 1 / (length * Math.abs(v[m]!));
}

/** (1 − β·v·vᵀ)·a·(1 − β·v·vᵀ), v from place m on. */
function reflect(a: Rows, m: number, v: Float64Array, beta: number): void {
  const size = a.length;
  for (let j = m - 1; j < size; j++) {
    let sum = 0;
    for (let i = m; i < size; i++) sum += v[i]! * a[i]![j]!;
    sum *= beta;
    for (let i = m; i < size; i++) a[i]![j]! -= sum * v[i]!;
  }
  for (let i = 0; i < size; i++) {
    const row = a[i]!;
    let sum = 0;
    for (let j = m; j < size; j++) sum += v[j]! * row[j]!;
    sum *= beta;
    for (let j = m; j < size; j++) row[j]! -= sum * v[j]!;
  }
}

/** First place of the block that ends at `last`: the subdiagonal entry before it is next to nothing. */
function blockStart(h: Rows, last: number, norm: number): number {
  for (let k = last; k > 0; k--) {
    const beside = Math.abs(h[k - 1]![k - 1]!) + Math.abs(h[k]![k]!) || norm;
    if (Math.abs(h[k]![k - 1]!) <= ROUNDING * beside) {
      h[k]![k - 1] = 0;
      return k;
    }
  }
  return 0;
}

/** The two eigenvalues of the last block of two. */
function pairAt(h: Rows, last: number, moved: number): Phasor[] {
  const x = h[last]![last]!;
  const product = h[last]![last - 1]! * h[last - 1]![last]!;
  const half = (h[last - 1]![last - 1]! - x) / 2;
  const square = half * half + product;
  const root = Math.sqrt(Math.abs(square));
  if (square < 0) {
    const re = x + half + moved;
    return [
      { re, im: root },
      { re, im: -root },
    ];
  }
  const far = half + (half < 0 ? -root : root);
  return [
    { re: x + moved + far, im: 0 },
    { re: x + moved + (far === 0 ? 0 : -product / far), im: 0 },
  ];
}

/** Sum and product rule of the two shifts: the corners of the last block of two, and the product off its diagonal. */
interface Shifts {
  readonly x: number;
  readonly y: number;
  readonly w: number;
}

function shiftsAt(h: Rows, last: number, steps: number): Shifts {
  if (steps > 0 && steps % STUBBORN === 0) {
    const s = cornerSize(h, last);
    return { x: EXCEPTIONAL_SUM * s, y: EXCEPTIONAL_SUM * s, w: EXCEPTIONAL_PRODUCT * s * s };
  }
  return {
    x: h[last]![last]!,
    y: h[last - 1]![last - 1]!,
    w: h[last]![last - 1]! * h[last - 1]![last]!,
  };
}

const cornerSize = (h: Rows, last: number) =>
  Math.abs(h[last]![last - 1]!) + Math.abs(h[last - 1]![last - 2]!);

/** Moves the origin to the last entry; returns by how much. */
function moveOrigin(h: Rows, last: number): number {
  const by = h[last]![last]!;
  for (let i = 0; i <= last; i++) h[i]![i]! -= by;
  return by;
}

/** First column of (H − x)(H − y) − w, from row m on, scaled. */
type Bulge = [p: number, q: number, r: number];

function bulgeAt(h: Rows, m: number, { x, y, w }: Shifts): Bulge {
  const z = h[m]![m]!;
  const p = ((x - z) * (y - z) - w) / h[m + 1]![m]! + h[m]![m + 1]!;
  const q = h[m + 1]![m + 1]! - z - (x - z) - (y - z);
  const r = h[m + 2]![m + 1]!;
  const size = Math.abs(p) + Math.abs(q) + Math.abs(r);
  return [p / size, q / size, r / size];
}

/** The lowest row from which a step may start: two small subdiagonal entries in a row are as good as none. */
function bulge(h: Rows, first: number, last: number, shifts: Shifts): { m: number; start: Bulge } {
  for (let m = last - 2; ; m--) {
    const start = bulgeAt(h, m, shifts);
    if (m <= first) return { m: first, start };
    const [p, q, r] = start;
    const around = Math.abs(h[m - 1]![m - 1]!) + Math.abs(h[m]![m]!) + Math.abs(h[m + 1]![m + 1]!);
    if (Math.abs(h[m]![m - 1]!) * (Math.abs(q) + Math.abs(r)) <= ROUNDING * Math.abs(p) * around)
      return { m, start };
  }
}

/** One QR step with two shifts on the block from `first` to `last`: a bulge is chased down the diagonal. */
function doubleStep(h: Rows, first: number, last: number, shifts: Shifts): void {
  const { m, start } = bulge(h, first, last, shifts);
  for (let i = m + 2; i <= last; i++) {
    h[i]![i - 2] = 0;
    if (i > m + 2) h[i]![i - 3] = 0;
  }
  let [p, q, r] = start;
  for (let k = m; k < last; k++) {
    const isLast = k === last - 1;
    let scale = 1;
    if (k > m) {
      [p, q, r] = [h[k]![k - 1]!, h[k + 1]![k - 1]!, isLast ? 0 : h[k + 2]![k - 1]!];
      scale = Math.abs(p) + Math.abs(q) + Math.abs(r);
      if (scale === 0) continue;
      p /= scale;
      q /= scale;
      r /= scale;
    }
    const s = p < 0 ? -Math.sqrt(p * p + q * q + r * r) : Math.sqrt(p * p + q * q + r * r);
    if (k > m) h[k]![k - 1] = -s * scale;
    else if (first !== m) h[k]![k - 1] = -h[k]![k - 1]!;
    p += s;
    chaseRows(h, k, last, p / s, q / s, r / s, q / p, r / p);
    chaseColumns(h, k, first, last, p / s, q / s, r / s, q / p, r / p);
  }
}

type Chase = [x: number, y: number, z: number, q: number, r: number];

function chaseRows(h: Rows, k: number, last: number, ...[x, y, z, q, r]: Chase): void {
  const [top, middle] = [h[k]!, h[k + 1]!];
  const bottom = k < last - 1 ? h[k + 2]! : undefined;
  for (let j = k; j <= last; j++) {
    const p = top[j]! + q * middle[j]! + (bottom === undefined ? 0 : r * bottom[j]!);
    top[j]! -= p * x;
    middle[j]! -= p * y;
    if (bottom !== undefined) bottom[j]! -= p * z;
  }
}

function chaseColumns(h: Rows, k: number, first: number, last: number, ...[x, y, z, q, r]: Chase): void {
  const three = k < last - 1;
  const end = Math.min(last, k + 3);
  for (let i = first; i <= end; i++) {
    const row = h[i]!;
    const p = x * row[k]! + y * row[k + 1]! + (three ? z * row[k + 2]! : 0);
    row[k]! -= p;
    row[k + 1]! -= p * q;
    if (three) row[k + 2]! -= p * r;
  }
}
