import type { PathChange, Substitution } from "../bench/substitute/results.ts";
import { lines } from "./csv.ts";

/** A row a mode and type, the type fitted first; three columns a path. SI units. */
export function substituteCsv(results: readonly Substitution[]): string {
  const names = [...new Set(results.flatMap(({ fitted }) => Object.keys(fitted.paths)))];
  const heads = [
    "mode",
    "part",
    "type",
    "ic_amps",
    "vce_volts",
    "dissipation_watts",
    ...names.flatMap((name) => [
      `${name} gain_db`,
      `${name} change_db`,
      `${name} low_hertz`,
      `${name} high_hertz`,
      `${name} input_noise_volts_rms`,
      `${name} noise_change_db`,
    ]),
    "change",
    "limits",
    "warnings",
    "moved",
    "bias_resistor",
    "bias_exact_ohms",
    "bias_preferred_ohms",
    "bias_ic_amps",
  ];
  return lines([heads, ...results.flatMap((one) => rowsOf(one, names))]);
}

function rowsOf({ mode, part, fitted, candidates }: Substitution, names: readonly string[]) {
  const pathCells = (paths: Readonly<Record<string, Partial<PathChange>>>) =>
    names.flatMap((name) => {
      const { gain_db, change_db, low_hertz, high_hertz, input_noise_volts_rms, noise_change_db } =
        paths[name] ?? {};
      return [gain_db, change_db, low_hertz, high_hertz, input_noise_volts_rms, noise_change_db];
    });
  const own = fitted.transistors[part];
  return [
    [
      ...[mode, part, fitted.type, own?.ic_amps, own?.vce_volts, own?.dissipation_watts],
      ...pathCells(fitted.paths),
    ],
    ...candidates.map((one) => {
      const { ic_amps, vce_volts, dissipation_watts } = one.transistors[part]!;
      const { rebias } = one;
      return [
        ...[mode, part, one.type, ic_amps, vce_volts, dissipation_watts],
        ...pathCells(one.paths),
        one.change,
        one.limits.join("; "),
        one.warnings.join("; "),
        one.moved.map(({ what }) => what).join("; "),
        rebias?.resistor,
        rebias?.exact_ohms,
        rebias?.preferred_ohms,
        rebias?.transistor.ic_amps,
      ];
    }),
  ];
}
