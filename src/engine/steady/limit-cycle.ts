import type { Mode } from "../natural/refine.ts";
import type { SolvedPoint } from "../operating-point.ts";
import type { Phasor } from "../small-signal.ts";
import { copied, type Held, type Swing } from "./harmonic-equations.ts";
import { HarmonicSystem } from "./harmonic-system.ts";

/** The swing that a growing mode settles at. */
export interface LimitCycle {
  readonly omega: number;
  /** How many harmonics were balanced. */
  readonly harmonics: number;
  /** Mean value of an unknown. */
  readonly mean: (unknown: number) => number;
  /** Peak phasor of an unknown's harmonic (1 is the fundamental). */
  readonly phasor: (unknown: number, harmonic: number) => Phasor;
}

export type Outcome = LimitCycle | { readonly reason: string };

/** Harmonics balanced on the way outwards; fewer where that fails. One is the describing function. */
const COARSE = [3, 2, 1];
/** Harmonics with which the steady swing is then balanced: the first that succeeds. */
const FINE = [15, 7];
/** The first swing: the hardest driven unknown of a device moves so far, V. */
const FIRST_SWING = 2e-3;
/** No part of these circuits swings further, V: growth without a limit. */
const LARGEST_SWING = 1e5;
const MOST_STEPS = 25;
const SETTLED = 1e-9;
const FIRST_STRIDE = 0.4;
const LONGEST_STRIDE = 0.7;
const SHORTEST_STRIDE = 0.002;
/** Growth, relative to ω, that counts as none. */
const STEADY = 1e-9;

/**
 * Follows a growing natural frequency from its first small swing to where it grows no more: for each
 * amplitude of its most moved net the harmonic balance gives the growth left at that amplitude.
 */
export function limitCycle(point: SolvedPoint, mode: Mode): Outcome {
  const start = new Start(point, mode);
  const n = point.network.unknowns.electrical;
  let reason = "";
  for (const harmonics of COARSE) {
    const system = new HarmonicSystem(point.network, point.state, harmonics, mode.s.im);
    const found = new Walk(system, start.unknown).outwards(start.swing(system), start.amplitude);
    if ("swing" in found) {
      const swing = refined(point, start.unknown, found.swing);
      return described(swing, (swing.x.length / n - 1) / 2, n);
    }
    reason = found.reason;
  }
  return { reason };
}

/** The steady swing balanced with more harmonics. */
function refined(point: SolvedPoint, unknown: number, coarse: Swing): Swing {
  for (const harmonics of FINE) {
    const more = { ...coarse, x: new Float64Array((2 * harmonics + 1) * point.network.unknowns.electrical) };
    more.x.set(coarse.x);
    const system = new HarmonicSystem(point.network, point.state, harmonics, coarse.omega, more);
    const found = settled(system, more, { unknown });
    if (found !== undefined && alike(found, coarse)) return found;
  }
  return coarse;
}

/** More harmonics change a steady swing little; what has become another one is none. */
const alike = (a: Swing, b: Swing) => {
  const size = ({ x }: Swing, length: number) => Math.hypot(...x.subarray(0, length));
  const length = Math.min(a.x.length, b.x.length);
  return Math.abs(size(a, length) / size(b, length) - 1) < 0.3 && Math.abs(a.omega / b.omega - 1) < 0.1;
};

/** Newton's iteration to its end, in place; nothing if it does not settle. */
function settled(system: HarmonicSystem, swing: Swing, held: Held, amplitude = 0): Swing | undefined {
  for (let step = 0; step < MOST_STEPS; step++) {
    const change = system.improve(swing, held);
    if (Number.isNaN(change)) return undefined;
    if (change < SETTLED * (1 + amplitude)) return swing;
  }
  return undefined;
}

function described({ x, omega }: Swing, harmonics: number, n: number): LimitCycle {
  return {
    omega,
    harmonics,
    mean: (unknown) => (unknown < n ? x[unknown]! : 0),
    phasor: (unknown, harmonic) =>
      unknown < n && harmonic <= harmonics
        ? { re: x[(2 * harmonic - 1) * n + unknown]!, im: -x[2 * harmonic * n + unknown]! }
        : { re: 0, im: 0 },
  };
}

/** The small swing along the mode's right vector. */
class Start {
  readonly unknown: number;
  readonly amplitude: number;
  readonly #point: SolvedPoint;
  readonly #mode: Mode;

  constructor(point: SolvedPoint, mode: Mode) {
    this.#point = point;
    this.#mode = mode;
    const { unknowns, devices } = point.network;
    const size = (k: number) => Math.hypot(mode.right.re[k]!, mode.right.im[k]!);
    const nodes = [...Array(unknowns.electrical).keys()].filter((k) => unknowns.list[k]!.kind === "node");
    this.unknown = nodes.reduce((a, b) => (size(b) > size(a) ? b : a), nodes[0] ?? 0);
    const driven = devices.flatMap(({ locals }) => [...locals].filter((k) => k < unknowns.electrical));
    const hardest = Math.max(...driven.map(size), 1e-9 * size(this.unknown));
    this.amplitude = (FIRST_SWING * size(this.unknown)) / hardest;
  }

  swing(system: HarmonicSystem): Swing {
    const { s, right } = this.#mode;
    const n = this.#point.network.unknowns.electrical;
    const x = new Float64Array(system.size - 2);
    x.set(this.#point.state.subarray(0, n));
    const [a, b] = [right.re[this.unknown]!, right.im[this.unknown]!];
    const by = this.amplitude / (a * a + b * b);
    for (let k = 0; k < n; k++) {
      // v·conj(v_unknown): the held unknown has no sine
      x[n + k] = by * (right.re[k]! * a + right.im[k]! * b);
      x[2 * n + k] = -by * (right.im[k]! * a - right.re[k]! * b);
    }
    return { x, omega: s.im, sigma: s.re };
  }
}

type Steady = { readonly swing: Swing; readonly amplitude: number };
type Reason = { readonly reason: string };

/** Solutions of one system at one amplitude after another. */
class Walk {
  readonly #system: HarmonicSystem;
  readonly #unknown: number;

  constructor(system: HarmonicSystem, unknown: number) {
    this.#system = system;
    this.#unknown = unknown;
  }

  /** The solution at an amplitude from a neighbouring one; nothing if Newton does not settle. */
  #at(amplitude: number, from: Steady): Steady | undefined {
    const swing = copied(from.swing);
    const n = this.#n;
    const ratio = amplitude / from.amplitude;
    for (let k = n; k < swing.x.length; k++) swing.x[k]! *= ratio;
    const held: Held = { unknown: this.#unknown, amplitude };
    const found = settled(this.#system, swing, held, amplitude);
    return found && { swing: found, amplitude };
  }

  get #n(): number {
    return (this.#system.size - 2) / this.#system.fourier.blocks;
  }

  /** From a small swing outwards, with strides in the logarithm of the amplitude, until growth ends. */
  outwards(first: Swing, amplitude: number): Steady | Reason {
    let at = this.#at(amplitude, { swing: first, amplitude });
    if (at === undefined) return { reason: "the first small swing could not be balanced" };
    let stride = FIRST_STRIDE;
    while (at.amplitude < LARGEST_SWING) {
      const next = this.#at(at.amplitude * Math.exp(stride), at);
      if (next === undefined) {
        stride /= 2;
        if (stride < SHORTEST_STRIDE)
          return { reason: `the balance was lost at a swing of ${at.amplitude.toPrecision(3)} V` };
        continue;
      }
      if (next.swing.sigma <= 0) return this.#between(at, next);
      at = next;
      stride = Math.min(LONGEST_STRIDE, stride * 1.3);
    }
    return { reason: "nothing limits the swing" };
  }

  /** The amplitude without growth between one where it grows and one where it shrinks. */
  #between(inside: Steady, outside: Steady): Steady | Reason {
    const direct = settled(this.#system, copied(inside.swing), { unknown: this.#unknown }, inside.amplitude);
    if (direct !== undefined) {
      const amplitude = direct.x[this.#n + this.#unknown]!;
      if (amplitude > inside.amplitude && amplitude < outside.amplitude) return { swing: direct, amplitude };
    }
    let [low, high] = [inside, outside];
    for (let round = 0; round < 60; round++) {
      const share = low.swing.sigma / (low.swing.sigma - high.swing.sigma);
      // a secant, kept from creeping along one end
      const safe = round % 3 === 2 ? 0.5 : Math.min(0.95, Math.max(0.05, share));
      const middle = this.#at(low.amplitude + safe * (high.amplitude - low.amplitude), low);
      if (middle === undefined) return { reason: "the balance was lost near the steady swing" };
      if (Math.abs(middle.swing.sigma) < STEADY * middle.swing.omega) return middle;
      if (middle.swing.sigma > 0) low = middle;
      else high = middle;
    }
    return low;
  }
}
