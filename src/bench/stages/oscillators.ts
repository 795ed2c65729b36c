import { ONE, type Phasor, plus } from "./phasor.ts";
import type { OscillatorLoop } from "./results.ts";
import { generatorReturn, type Transmission } from "./transmission.ts";
import { growing } from "./turning.ts";

/** How the small-signal circuit stands, from its sweep. */
export interface Stability {
  /** Natural frequencies that grow, a complex pair counting two. */
  readonly growing: number;
  /** For each transistor that keeps one of them growing, its loop. */
  readonly oscillators: ReadonlyMap<number, OscillatorLoop>;
}

/**
 * Which transistors oscillate: those without which fewer natural frequencies grow, or, where two halves
 * could each do it alone, those that do.
 */
export function stability(sweep: readonly Transmission[]): Stability {
  const all = growing(sweep.map(({ determinant }) => determinant));
  const oscillators = new Map<number, OscillatorLoop>();
  if (all === 0) return { growing: 0, oscillators };
  const count = sweep[0]?.links.length ?? 0;
  for (let k = 0; k < count; k++) {
    const together = sweep.map((at) => generatorReturn(at, k));
    const alone = sweep.map(({ links }) => links[k]![k]!);
    const needed = growing(together.map((value) => plus(ONE, value))) > 0;
    const able = growing(alone.map((value) => plus(ONE, value))) > 0;
    if (needed || able) oscillators.set(k, strongest(sweep, needed ? together : alone));
  }
  return { growing: all, oscillators };
}

/** Where the return ratio is real and farthest below −1; 0 Hz for one that tips over. */
function strongest(sweep: readonly Transmission[], values: readonly Phasor[]): OscillatorLoop {
  let best: OscillatorLoop = { hertz: 0, loop_gain: Math.max(0, -(values[0]?.re ?? 0)) };
  for (let i = 1; i < values.length; i++) {
    const [a, b] = [values[i - 1]!, values[i]!];
    if (a.im >= 0 === b.im >= 0 || Math.min(a.re, b.re) >= 0) continue;
    const share = a.im / (a.im - b.im);
    const gain = -(a.re + share * (b.re - a.re));
    const hertz = sweep[i - 1]!.hertz * (sweep[i]!.hertz / sweep[i - 1]!.hertz) ** share;
    if (gain > best.loop_gain) best = { hertz, loop_gain: gain };
  }
  return best;
}
