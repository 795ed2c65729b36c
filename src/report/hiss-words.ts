/** Noise in words and numbers, for the table and the plot. */
import type { NoiseLevel, PathHiss } from "../bench/hiss/results.ts";
import { decimal, gainText, hertz, volts, withUnit } from "./numbers.ts";

/** What to call each result: its path, with its mode where the path is there in several. */
export const hissLabels = (results: readonly PathHiss[]): readonly string[] =>
  results.map(({ path, mode }) =>
    results.filter((other) => other.path === path).length > 1 ? `${path} in ${mode}` : path,
  );

/** Densities of the output, V/√Hz or A/√Hz. */
export const densities = (of: {
  readonly output_volts_per_root_hertz?: readonly number[];
  readonly output_amps_per_root_hertz?: readonly number[];
}): readonly number[] => of.output_volts_per_root_hertz ?? of.output_amps_per_root_hertz ?? [];

/** Level at the output, V or A. */
export const outputOf = ({ output_volts_rms, output_amps_rms }: NoiseLevel): number =>
  output_volts_rms ?? output_amps_rms ?? 0;

export const unitOf = ({ quantity }: PathHiss): "V" | "A" => (quantity === "voltage" ? "V" : "A");

export const ratioText = ({ signal_to_noise_db: ratio }: NoiseLevel): string =>
  ratio === undefined ? "–" : `${decimal(ratio, 1)} dB`;

export const inputText = ({ input_volts_rms }: NoiseLevel): string =>
  input_volts_rms === undefined ? "–" : volts(input_volts_rms);

export const outputText = (level: NoiseLevel, unit: "V" | "A"): string => withUnit(outputOf(level), unit);

/** `8.4 dB at 1 kHz, 11.8 dB over the band, against dcr and loss of K1 at 290 K`. */
export function figureText({ noise_figure: figure, from }: PathHiss): string {
  if (figure === undefined) return `none: ${from} has no resistance that makes itself heard`;
  const source = figure.source.map((origin) => origin.replace(" (thermal)", "")).join(" and ");
  const decibels = (value: number) => `${decimal(value, 1)}\u00a0dB`;
  const values = `${decibels(figure.at_1k_db)} at 1\u00a0kHz, ${decibels(figure.band_db)} over the band`;
  return `${values}, against ${source} of ${from} at 290\u00a0K`;
}

/** `gain 53.5 dB at 1 kHz`. */
export const gainSentence = ({ gain_db, quantity }: PathHiss): string =>
  `gain ${gainText(gain_db, quantity)} at 1\u00a0kHz`;

export const bandText = ({ low_hertz, high_hertz }: PathHiss): string =>
  `${hertz(low_hertz)} to ${hertz(high_hertz)}`;

/** A share of power, `25.4 %`; below a twentieth of a per cent it says so. */
export function shareText(share: number): string {
  if (share > 0 && share < 0.0005) return "< 0.1 %";
  return `${decimal(100 * share, 1)} %`;
}

/** A sentence for every mode whose operating point does not hold. */
export function unsoundTexts(results: readonly PathHiss[]): readonly string[] {
  const modes = new Map(results.map(({ mode, growing_hertz }) => [mode, growing_hertz ?? []]));
  return [...modes].flatMap(([mode, growing]) => {
    if (growing.length === 0) return [];
    const swinging = growing.filter((f) => f > 0).map((f) => withUnit(f, "Hz", 4));
    const what = swinging.length > 0 ? `oscillates at ${swinging.join(", ")}` : "leaves its operating point";
    return `Mode ${mode} ${what}: its noise is that of the point of rest, not of the circuit as it runs. See preprobe oscillation.`;
  });
}

/** One path's noise in a line, for those who do not see the plot. */
export function hissSummary(result: PathHiss): string {
  const unit = unitOf(result);
  const [first] = result.contributors;
  const most =
    first === undefined ? "" : `; most of it from ${first.part}, ${first.origin}, ${shareText(first.share)}`;
  return `${outputText(result, unit)} from ${bandText(result)}, ${outputText(result.weighted["ITU-R 468"], unit)} under ITU-R 468${most}`;
}
