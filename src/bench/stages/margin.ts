import { root } from "../root.ts";
import { degrees, ONE, type Phasor, plus, size } from "./phasor.ts";
import { growing } from "./turning.ts";

export interface LoopPoint {
  readonly hertz: number;
  readonly value: Phasor;
}

/** Where the loop gain passes through one, and how far its phase is from sustaining itself there. */
export interface Margin {
  readonly crossover_hertz: number;
  readonly phase_margin_degrees: number;
}

/** How near |T| comes to 1, nepers. */
const ACCURACY = 1e-12;

/** The frequency of |T| = 1 between two points, and T there; the second point where it cannot be closed in on. */
function crossing(a: LoopPoint, b: LoopPoint, at: (hertz: number) => Phasor | undefined): LoopPoint {
  const excess = (logarithm: number) => {
    const value = at(Math.exp(logarithm));
    return value === undefined ? undefined : Math.log(size(value));
  };
  const found = root(excess, Math.log(a.hertz), Math.log(b.hertz), ACCURACY);
  if (found === undefined) return b;
  const hertz = Math.exp(found);
  return { hertz, value: at(hertz) ?? b.value };
}

/**
 * The least phase margin of a return ratio T: how far its angle is from 180° where |T| is 1, with a minus
 * where the loop makes an oscillation grow (Nyquist 1932). Undefined where |T| is nowhere 1. `points` run
 * from direct current upwards, `at` gives T at any frequency, to find the crossings exactly.
 */
export function phaseMargin(
  points: readonly LoopPoint[],
  at: (hertz: number) => Phasor | undefined,
): Margin | undefined {
  const found = points.slice(1).flatMap((point, i): Margin[] => {
    const last = points[i]!;
    if (size(last.value) > 1 === size(point.value) > 1) return [];
    const { hertz, value } = crossing(last, point, at);
    return [{ crossover_hertz: hertz, phase_margin_degrees: 180 - Math.abs(degrees(value)) }];
  });
  const least = found.toSorted((a, b) => a.phase_margin_degrees - b.phase_margin_degrees)[0];
  if (least === undefined) return undefined;
  const grows = growing(points.map(({ value }) => plus(ONE, value))) > 0;
  return grows ? { ...least, phase_margin_degrees: -least.phase_margin_degrees } : least;
}
