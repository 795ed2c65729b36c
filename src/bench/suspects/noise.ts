import type { Look } from "./looks.ts";

/** A meter's error is partly the same in all readings (its scale), partly not (needle, parallax): shares of it. */
const COMMON = 0.5;
const OWN = 0.85;
/** Half a division near the beginning of the lowest range, V; and shares of the value for what is not volts. */
const LEAST_VOLTS = 3e-3;
const LEAST_SHARE = 0.003;
const LEAST_DECIBELS = 0.5;
/** What linearised spreads and models leave out: a share of how far the fault has moved the reading. */
const MODEL_SHARE = 0.03;
/** dB that gains differ by from specimen to specimen, where nothing better is known. */
const GAIN_DEVIATION = 1.2;
/** Parts in parallel paths, in the logarithm of a resistance to chassis. */
const RESISTANCE_DEVIATION = 0.08;
const LEAKAGE_AMPS = 20e-9;

/** Standard deviations of a reading: that of its own, and that in common with all others of its kind. */
export interface Noise {
  readonly own: number;
  readonly common: number;
}

/** Noise of a reading with this prediction, of which `healthy` is that without a fault. */
export function noiseOf(look: Look, value: number, mean: number, healthy: number, accuracy: number): Noise {
  const size = (Math.abs(value) + Math.abs(mean)) / 2;
  const moved = MODEL_SHARE * Math.abs(mean - healthy);
  switch (look.kind) {
    case "voltage":
      return {
        own: Math.hypot(OWN * accuracy * size, LEAST_VOLTS + LEAST_SHARE * size, moved),
        common: COMMON * accuracy * size,
      };
    case "current":
      return { own: Math.hypot(OWN * accuracy * size, LEAKAGE_AMPS + LEAST_SHARE * size, moved), common: 0 };
    case "resistance":
      return { own: Math.hypot(accuracy, RESISTANCE_DEVIATION, moved), common: 0 };
    case "gain":
      return { own: Math.hypot(LEAST_DECIBELS + 8.7 * accuracy, GAIN_DEVIATION, moved), common: 0 };
  }
}
