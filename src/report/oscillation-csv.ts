import type { OscillationChart } from "../bench/oscillation/results.ts";
import { lines } from "./csv.ts";

/** A row a natural frequency of each mode, fastest growing first; parts by participation. */
export function oscillationCsv(charts: readonly OscillationChart[]): string {
  const rows = charts.flatMap(({ mode, natural }) =>
    natural.map(({ hertz, growth_per_second, q, parts }) => [
      mode,
      hertz,
      growth_per_second,
      q,
      parts.map(({ part }) => part).join(" "),
    ]),
  );
  return lines([["mode", "hertz", "growth_per_second", "q", "parts"], ...rows]);
}
