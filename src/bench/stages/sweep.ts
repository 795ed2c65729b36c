import type { LinearCircuit } from "./linear-circuit.ts";
import { over, type Phasor, size } from "./phasor.ts";
import { type Transmission, transmission } from "./transmission.ts";

/** What counts as direct current, Hz: below it nothing changes any more in a circuit of this size. */
export const DIRECT = 1e-4;
const LOWEST = 1e-3;
const HIGHEST = 1e8;
const PER_DECADE = 16;
/** Between neighbouring frequencies no determinant turns or grows by more than this share of itself. */
const LARGEST_STEP = 0.25;
/** Halvings of an interval of the grid: down to a resonance of some Q of 10 000. */
const DEEPEST = 12;

const grid = (): number[] => {
  const decades = Math.log10(HIGHEST / LOWEST);
  const count = Math.round(decades * PER_DECADE);
  return [DIRECT, ...Array.from({ length: count + 1 }, (_, i) => LOWEST * 10 ** (i / PER_DECADE))];
};

/** The quantities whose course must not be missed: det(1 + L), and 1 + L_kk of each transistor alone. */
const watched = ({ determinant, links }: Transmission): Phasor[] => [
  determinant,
  ...links.map((row, k) => ({ re: 1 + row[k]!.re, im: row[k]!.im })),
];

function close(a: Transmission, b: Transmission): boolean {
  const others = watched(b);
  return watched(a).every((value, i) => {
    const ratio = over(others[i]!, value);
    return size({ re: ratio.re - 1, im: ratio.im }) < LARGEST_STEP;
  });
}

/** The transmissions from direct current to 100 MHz, closer where they change faster. */
export function sweepTransmissions(circuit: LinearCircuit): readonly Transmission[] {
  const found: Transmission[] = [];
  const between = (a: Transmission, b: Transmission, depth: number): void => {
    if (depth >= DEEPEST || close(a, b)) return;
    const middle = transmission(circuit, Math.sqrt(a.hertz * b.hertz));
    if (middle === undefined) return;
    between(a, middle, depth + 1);
    found.push(middle);
    between(middle, b, depth + 1);
  };
  for (const hertz of grid()) {
    const next = transmission(circuit, hertz);
    if (next === undefined) continue;
    const last = found.at(-1);
    if (last !== undefined) between(last, next, 0);
    found.push(next);
  }
  return found;
}
