import type { PowerCurve } from "../bench/power/results.ts";
import { type Field, lines } from "./csv.ts";

const HEAD = [
  "path",
  "mode",
  "variant",
  "ambient_celsius",
  "hertz",
  "emf_volts_rms",
  "output_rms",
  "output_unit",
  "output_watts",
  "gain_db",
  "distortion",
  "second_harmonic",
  "third_harmonic",
  "supply_watts",
  "limit",
] as const;

/** A row a level; the levels where it clips are named in the last column. */
export const powerCsv = (curves: readonly PowerCurve[]): string =>
  lines([
    HEAD,
    ...curves.flatMap((curve) =>
      curve.points.map((point): readonly Field[] => [
        curve.path,
        curve.mode,
        curve.variant ?? "",
        curve.ambient_celsius,
        curve.hertz,
        point.emf_volts,
        point.output,
        curve.quantity === "voltage" ? "V" : "A",
        point.output_watts,
        point.gain_db,
        point.distortion,
        point.harmonics[0],
        point.harmonics[1],
        point.supply_watts,
        curve.limits.find(({ emf_volts }) => emf_volts === point.emf_volts)?.what ?? "",
      ]),
    ),
  ]);
