import type { Phasor } from "../small-signal.ts";
import { type Pencil, PencilSolver } from "./pencil.ts";
import {
  type ComplexVector,
  distance,
  dot,
  multiply,
  normalise,
  quotient,
  size,
  vectorOf,
} from "./vector.ts";

/** A solution of (G + s·C)·right = 0 and leftᵀ·(G + s·C) = 0. */
export interface Mode {
  /** rad/s. */
  readonly s: Phasor;
  readonly right: ComplexVector;
  readonly left: ComplexVector;
  /** leftᵀ·C·right, not zero. */
  readonly norm: Phasor;
  /** How well s is determined, relative: the last change of the iteration. */
  readonly error: number;
}

const MOST_STEPS = 12;
/** How far beside s, relative, the matrix is factored where it is singular at s: nearer is quicker. */
const BESIDE = [0, 1e-12, 1e-9, 1e-6];
/** Change of s, relative, below which it stands. */
const SETTLED = 1e-13;
/** A change no larger than this that no longer shrinks is rounding; large where much cancels in the circuit. */
const ACCEPTED = 1e-6;

/**
 * Improves rough natural frequencies by two-sided Rayleigh quotients (Ostrowski 1958): inverse iteration
 * for both vectors at s, then s ← s − leftᵀ(G + sC)right / leftᵀ·C·right; converges cubically.
 */
export class Refiner {
  readonly #pencil: Pencil;
  readonly #solver: PencilSolver;

  constructor(pencil: Pencil) {
    this.#pencil = pencil;
    this.#solver = new PencilSolver(pencil);
  }

  /**
   * The mode near `rough`, from an earlier one's vectors if there are any; nothing if none settles.
   * `seed` tells the starting vectors of equal modes apart.
   */
  refine(rough: Phasor, seed = 0, from?: Mode): Mode | undefined {
    const n = this.#pencil.pattern.size;
    const right = from === undefined ? started(n, 2 * seed + 1) : copied(from.right);
    const left = from === undefined ? started(n, 2 * seed + 2) : copied(from.left);
    let s = rough;
    let last = Number.POSITIVE_INFINITY;
    if (from === undefined && !this.#invert(s, right, left)) return undefined;
    for (let step = 0; step < MOST_STEPS; step++) {
      if (!this.#invert(s, right, left)) return undefined;
      const { next, norm } = this.#quotient(s, right, left);
      if (!Number.isFinite(next.re) || !Number.isFinite(next.im)) return undefined;
      const change = distance(next, s) / size(next);
      s = next;
      if (change < SETTLED || (change < ACCEPTED && change > last / 2))
        return { s, right, left, norm, error: change };
      last = change;
    }
    return undefined;
  }

  /** One step of inverse iteration for both vectors; a hair beside s where it is an eigenvalue to the last digit. */
  #invert(s: Phasor, right: ComplexVector, left: ComplexVector): boolean {
    const { pattern, c } = this.#pencil;
    const ahead = vectorOf(pattern.size);
    multiply(pattern, c, right, ahead);
    const behind = vectorOf(pattern.size);
    multiply(pattern, c, left, behind, true);
    for (const beside of BESIDE) {
      const at = { re: s.re + beside * size(s), im: s.im };
      if (!this.#solver.tune(at)) continue;
      this.#solver.solve(ahead, right);
      this.#solver.solve(behind, left, true);
      if (normalise(right) && normalise(left)) return true;
    }
    return false;
  }

  #quotient(s: Phasor, right: ComplexVector, left: ComplexVector) {
    const { pattern, g, c } = this.#pencil;
    const cv = vectorOf(pattern.size);
    multiply(pattern, c, right, cv);
    const residual = vectorOf(pattern.size);
    multiply(pattern, g, right, residual);
    const norm = dot(left, cv);
    // summed row by row before the weighting: what cancels within a row cancels exactly
    for (let k = 0; k < pattern.size; k++) {
      residual.re[k]! += s.re * cv.re[k]! - s.im * cv.im[k]!;
      residual.im[k]! += s.re * cv.im[k]! + s.im * cv.re[k]!;
    }
    const step = quotient(dot(left, residual), norm);
    return { next: { re: s.re - step.re, im: s.im - step.im }, norm };
  }
}

const copied = ({ re, im }: ComplexVector): ComplexVector => ({ re: re.slice(), im: im.slice() });

/** A start that favours no unknown: repeatable noise. */
function started(n: number, seed: number): ComplexVector {
  let state = (seed * 2654435761 + 12345) >>> 0;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32 - 0.5;
  };
  const vector = vectorOf(n);
  for (let k = 0; k < n; k++) {
    vector.re[k] = next();
    vector.im[k] = next();
  }
  return vector;
}
