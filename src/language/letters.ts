/** Tolerance letters of IEC 60062. */
import type { Tolerance } from "../circuit/circuit.ts";
import type { AnyUnit } from "./units.ts";

const even = (share: number): Tolerance => ({ low: -share, high: share });

const LETTERS: Readonly<Record<string, Tolerance>> = {
  B: even(0.001),
  C: even(0.0025),
  D: even(0.005),
  F: even(0.01),
  G: even(0.02),
  H: even(0.03),
  J: even(0.05),
  K: even(0.1),
  M: even(0.2),
  N: even(0.3),
  Q: { low: -0.1, high: 0.3 },
  S: { low: -0.2, high: 0.5 },
  T: { low: -0.1, high: 0.5 },
  Z: { low: -0.2, high: 0.8 },
};

/** Below 10 pF these letters mean farads, not shares. */
const SMALL_CAPACITORS: Readonly<Record<string, number>> = {
  B: 0.1e-12,
  C: 0.25e-12,
  D: 0.5e-12,
  F: 1e-12,
  G: 2e-12,
};

const WITH_LETTERS: ReadonlySet<AnyUnit> = new Set(["ohm", "farad", "henry"]);

/** What a tolerance letter behind a coded value means. */
export function codedTolerance(letter: string, unit: AnyUnit, value: number): Tolerance | undefined {
  if (!WITH_LETTERS.has(unit)) return undefined;
  const farads = SMALL_CAPACITORS[letter];
  if (unit === "farad" && value < 9.999e-12 && farads !== undefined) return even(Math.min(1, farads / value));
  return LETTERS[letter];
}
