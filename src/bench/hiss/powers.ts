/** Powers of noise in the words of the results. */
import { WEIGHTINGS } from "../../tape/weighting.ts";
import type { NoiseLevel, PathHiss, Weighting } from "./results.ts";

const NAMES = Object.keys(WEIGHTINGS) as Weighting[];

/** Factors of power by frequency in Hz: none first, then each weighting. */
export const FACTORS: readonly ((hertz: number) => number)[] = [
  () => 1,
  ...NAMES.map((name) => (hertz: number) => 10 ** (WEIGHTINGS[name](hertz) / 10)),
];

/** One value a weighting, made from its number in `FACTORS`. */
export const byWeighting = <Value>(of: (w: number) => Value): Readonly<Record<Weighting, Value>> =>
  Object.fromEntries(NAMES.map((name, k) => [name, of(k + 1)])) as Record<Weighting, Value>;

export const total = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0);

/** What turns a power at the output (V² or A²) into levels. */
export function levelOf(quantity: PathHiss["quantity"], gain: number, emf: number | undefined) {
  return (power: number): NoiseLevel => {
    const output = Math.sqrt(power);
    const input = gain > 0 ? output / gain : undefined;
    const heard = input !== undefined && input > 0 && emf !== undefined;
    return {
      ...(quantity === "voltage" ? { output_volts_rms: output } : { output_amps_rms: output }),
      ...(input !== undefined && { input_volts_rms: input }),
      ...(heard && { signal_to_noise_db: 20 * Math.log10(emf / input) }),
    };
  };
}

/** Densities of power (V²/Hz or A²/Hz) as densities of the output. */
export function rootDensity(quantity: PathHiss["quantity"], densities: readonly number[]) {
  const roots = densities.map(Math.sqrt);
  return quantity === "voltage"
    ? { output_volts_per_root_hertz: roots }
    : { output_amps_per_root_hertz: roots };
}
