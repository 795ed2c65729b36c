import type { Adjustment } from "../bench/adjust.ts";
import { type Field, lines } from "./csv.ts";

const HEAD = ["mode", "part", "key", "what", "value", "value_unit", "reading", "reading_unit"];

/** A row for what was found, one for each preferred value, then the curve. */
export function adjustCsv(results: readonly Adjustment[]): string {
  const rows = results.flatMap((result): Field[][] => {
    const { mode, part, key, setting, value, value_unit, unit, achieved, met, curve } = result;
    const row = (what: string, x: Field, y: Field) => [mode, part, key, what, x, value_unit, y, unit];
    return [
      row(met ? "found" : "nearest", setting ?? value, achieved),
      ...result.others.map((other) => row("found as well", other, result.target)),
      ...(result.preferred ?? []).map((each) => row(each.series, each.value, each.achieved)),
      ...curve.x.map((x, k) => row("curve", x, curve.y[k] ?? undefined)),
    ];
  });
  return lines([HEAD, ...rows]);
}
