/** The linear elements that parts are made of. */
import type { Stamp } from "./equations.ts";

/**
 * A resistor of `ohms` between local nodes `a` and `b`, with its thermal noise (named `what`) at ambient or
 * at the temperature that is local unknown `at`.
 */
export function resistance(
  into: Stamp,
  a: number,
  b: number,
  ohms: number,
  what = "resistance",
  at?: number,
): void {
  conductance(into, a, b, 1 / ohms, what, at);
}

/** A conductance in siemens between local nodes `a` and `b`; otherwise as `resistance`. */
export function conductance(
  into: Stamp,
  a: number,
  b: number,
  siemens: number,
  what = "resistance",
  at?: number,
): void {
  into.thermal?.(a, b, siemens, what, at);
  into.g(a, a, siemens);
  into.g(b, b, siemens);
  into.g(a, b, -siemens);
  into.g(b, a, -siemens);
}

/** A capacitor in farads between local nodes `a` and `b`. */
export function capacitance(into: Stamp, a: number, b: number, farads: number): void {
  into.c(a, a, farads);
  into.c(b, b, farads);
  into.c(a, b, -farads);
  into.c(b, a, -farads);
}

/**
 * The current `i` of a branch from `a` to `b`, and v_a − v_b − ohms·i = (what the caller adds).
 * Used wherever a resistance may be zero: the current then stays exact.
 */
export function branch(
  into: Stamp,
  a: number,
  b: number,
  i: number,
  ohms: number,
  what = "resistance",
): void {
  into.seriesThermal?.(i, ohms, what);
  into.g(a, i, 1);
  into.g(b, i, -1);
  into.g(i, a, 1);
  into.g(i, b, -1);
  into.g(i, i, -ohms);
}

/** The same branch cut open: its equation is i = 0, its entries are those of `branch`. */
export function openBranch(into: Stamp, a: number, b: number, i: number): void {
  into.g(a, i, 1);
  into.g(b, i, -1);
  into.g(i, a, 0);
  into.g(i, b, 0);
  into.g(i, i, -1);
}
