import type { Pencil } from "./natural/pencil.ts";
import { type Mode, Refiner } from "./natural/refine.ts";
import { nearShift } from "./natural/shifted.ts";
import { distance, size } from "./natural/vector.ts";
import type { Phasor, SmallSignal } from "./small-signal.ts";
import { columnScale } from "./unknowns.ts";

/** Shifts σ, rad/s, three decades apart; each answers for its neighbourhood. */
const SHIFTS = [-3.5, -0.5, 2.5, 5.5, 8.5].map((exponent) => 1.07 * 10 ** exponent);
/** How far from its shift a mode is looked for: the neighbourhoods overlap. */
const REACH = 10 ** 1.8;
/** Slower than this, rad/s, is a charge that nothing moves (between two capacitors, say): no oscillation. */
const LEAST = 1e-5;
/** Largest s that the descriptions of the parts can mean, rad/s. */
const GREATEST = 2 * Math.PI * 1e9;
/** A rough value may be this far off, relative; what wanders further belongs to another mode. */
const ROUGH = 0.05;
/** Refined values this near each other, relative, are the same mode found twice. */
const SAME = 1e-8;
/** So many times its error may a mode be off. */
const UNSURE = 10;
/** Rough values this near a refined one count for its multiplicity. */
const CLOSE = 1e-6;

/** The pencil G + s·C of a linearised circuit. */
export const pencilOf = ({ pattern, g, c, network }: SmallSignal): Pencil => ({
  pattern,
  g,
  c,
  columnScale: columnScale(network.unknowns.list.slice(0, pattern.size)),
});

/**
 * All natural frequencies s (rad/s) of a linearised circuit, e^(s·t), with det(G + s·C) = 0: one of each
 * complex pair, im ≥ 0, those that grow fastest first; equal ones as often as they occur. Those between
 * 10⁻⁵ rad/s and 1 GHz are found, however singular C is.
 */
export function naturalFrequencies(pencil: Pencil): Mode[] {
  const found: Found[] = [];
  for (const [shift, sigma] of SHIFTS.entries()) {
    // an order of elimination made for another time scale would hold, but cost digits
    const refiner = new Refiner(pencil);
    nearShift(pencil, sigma, REACH).forEach((rough, k) => {
      const mode = refiner.refine(rough, k);
      if (mode === undefined || distance(mode.s, rough) > ROUGH * size(rough)) return;
      if (size(mode.s) < LEAST || size(mode.s) > GREATEST) return;
      found.push({ mode: upright(mode), rough, shift });
    });
  }
  return distinct(found).sort((a, b) => b.s.re - a.s.re || b.s.im - a.s.im);
}

/** Growth that is rounding, relative to |s|. */
const ROUNDING = 1e-6;

/**
 * Those that grow, s in rad/s, im ≥ 0, without refinement and without vectors: for questions asked of many
 * variants of a circuit. Right to about six digits.
 */
export function growingFrequencies(pencil: Pencil): Phasor[] {
  const found: Phasor[] = [];
  for (const sigma of SHIFTS)
    for (const s of nearShift(pencil, sigma, REACH))
      if (s.re > ROUNDING * size(s) && size(s) > LEAST && size(s) < GREATEST)
        if (!found.some((other) => near(other, s, CLOSE))) found.push(s);
  return found;
}

interface Found {
  readonly mode: Mode;
  readonly rough: Phasor;
  readonly shift: number;
}

/** Smaller than this against s, an imaginary part is rounding. */
const REAL = 1e-12;

function upright(mode: Mode): Mode {
  const { re, im } = mode.s;
  return Math.abs(im) > REAL * Math.abs(re) ? mode : { ...mode, s: { re, im: 0 } };
}

/** Each mode once, or as often as one shift alone saw it. */
function distinct(found: readonly Found[]): Mode[] {
  const groups: Found[][] = [];
  for (const each of found) {
    const group = groups.find(([first]) => same(first!.mode, each.mode));
    if (group === undefined) groups.push([each]);
    else group.push(each);
  }
  return groups.flatMap((group) => {
    const close = group.filter(({ mode, rough }) => near(mode.s, rough, CLOSE));
    const seen = SHIFTS.map((_, shift) => close.filter((each) => each.shift === shift));
    const most = seen.reduce((a, b) => (b.length > a.length ? b : a));
    return most.length > 0 ? most.map(({ mode }) => mode) : [group[0]!.mode];
  });
}

const same = (a: Mode, b: Mode) => near(a.s, b.s, Math.max(SAME, UNSURE * (a.error + b.error)));

const near = (a: Phasor, b: Phasor, share: number) => distance(a, b) <= share * size(a);
