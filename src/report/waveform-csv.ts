import type { Waveform } from "../bench/waveform/results.ts";
import { type Field, lines } from "./csv.ts";

/** A row a time; a column a net (volts), current or speed, of every mode in turn. */
export function waveformCsv(results: readonly Waveform[]): string {
  return results
    .map(({ mode, seconds, nets, currents = {}, speeds_rpm = {} }) => {
      const columns: (readonly [string, readonly number[]])[] = [
        ...Object.entries(nets).map(([name, values]) => [`${name} volts`, values] as const),
        ...Object.entries(currents).map(([name, values]) => [`${name} amps`, values] as const),
        ...Object.entries(speeds_rpm).map(([name, values]) => [`${name} rpm`, values] as const),
      ];
      const rows = seconds.map((time, k): Field[] => [mode, time, ...columns.map(([, values]) => values[k])]);
      return lines([["mode", "seconds", ...columns.map(([name]) => name)], ...rows]);
    })
    .join("");
}
