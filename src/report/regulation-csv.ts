import type { RegulationCurve } from "../bench/regulation/results.ts";
import { lines } from "./csv.ts";

const KEYS = ["held", "rpm", "least_rpm", "greatest_rpm", "worked_share", "periods_per_second"] as const;

/** A row a point of each curve, SI units but for the speeds. */
export const regulationCsv = (curves: readonly RegulationCurve[]): string =>
  lines([
    ["mode", "motor", "governor", "against", "unit", "value", ...KEYS],
    ...curves.flatMap(({ mode, motor, governor, against, unit, points }) =>
      points.map((point) => [
        mode,
        motor,
        governor,
        against,
        unit,
        point.value,
        ...KEYS.map((key) => point[key]),
      ]),
    ),
  ]);
