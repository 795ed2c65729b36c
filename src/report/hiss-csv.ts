import type { Contributor, PathHiss } from "../bench/hiss/results.ts";
import { type Field, lines } from "./csv.ts";
import { outputOf, unitOf } from "./hiss-words.ts";

const HEAD = [
  "path",
  "mode",
  "part",
  "origin",
  "share",
  "share_a",
  "share_itu_r_468",
  "output_rms",
  "output_rms_a",
  "output_rms_itu_r_468",
  "output_unit",
  "input_volts_rms",
  "input_volts_rms_a",
  "input_volts_rms_itu_r_468",
  "noise_figure_at_1k_db",
  "noise_figure_band_db",
  "gain_db",
] as const;

const all = (result: PathHiss) => [result, result.weighted.A, result.weighted["ITU-R 468"]];

function totalRow(result: PathHiss): readonly Field[] {
  return [
    ...[result.path, result.mode, "", "total", 1, 1, 1],
    ...all(result).map(outputOf),
    unitOf(result),
    ...all(result).map(({ input_volts_rms }) => input_volts_rms),
    result.noise_figure?.at_1k_db,
    result.noise_figure?.band_db,
    result.gain_db,
  ];
}

function contributorRow(result: PathHiss, { part, origin, share, weighted }: Contributor): readonly Field[] {
  const shares = [share, weighted.A, weighted["ITU-R 468"]];
  const levels = all(result).map((level, w) => Math.sqrt(shares[w]!) * outputOf(level));
  return [result.path, result.mode, part, origin, ...shares, ...levels, unitOf(result)];
}

/** A row a contributor, under a row for the whole of each path and mode. */
export const hissCsv = (results: readonly PathHiss[]): string =>
  lines([
    HEAD,
    ...results.flatMap((result) => [
      totalRow(result),
      ...result.contributors.map((each) => contributorRow(result, each)),
    ]),
  ]);
