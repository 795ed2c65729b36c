/** Half-power points of a gain, found to rounding rather than read off a table. */
import { type Read, root } from "./root.ts";

/** The reference frequency of the trade, Hz. */
export const REFERENCE = 1000;
/** Half the power, dB. */
const HALF_POWER = 10 * Math.log10(2);
/** Between these the points are looked for, Hz. */
const LOWEST = 0.1;
const HIGHEST = 100e6;
/** Step of the search, octaves: a narrower dip and rise is overlooked. */
const STEP = 1 / 4;
/** How near the level is met, dB. */
const ACCURACY = 1e-10;

/**
 * The nearest frequency below or above 1 kHz at which a gain (dB against Hz) is 3 dB less than `reference`, its
 * value there. Undefined where there is none from 0.1 Hz to 100 MHz, or no gain on the way.
 */
export function halfPower(gain: Read, reference: number, end: "lower" | "upper"): number | undefined {
  const above = (logarithm: number) => {
    const found = gain(Math.exp(logarithm));
    return found === undefined ? undefined : found - reference + HALF_POWER;
  };
  const step = (end === "lower" ? -STEP : STEP) * Math.LN2;
  const last = Math.log(end === "lower" ? LOWEST : HIGHEST);
  for (let x = Math.log(REFERENCE); end === "lower" ? x > last : x < last; x += step) {
    const next = above(x + step);
    if (next === undefined) return undefined;
    if (next > 0) continue;
    const found = root(above, x, x + step, ACCURACY);
    return found === undefined ? undefined : Math.exp(found);
  }
  return undefined;
}
