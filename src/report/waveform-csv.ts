import type { Waveform } from "../bench/waveform/results.ts";
import { type Field, lines } from "./csv.ts";
import { type Strip, stripsOf } from "./waveform-words.ts";

const UNITS: Readonly<Record<Strip["unit"], string>> = { V: "volts", A: "amps", rpm: "rpm" };

type Column = readonly [name: string, values: readonly number[]];

/** One that moves faster than it is written down brings its extremes since the value before. */
function columnsOf({ name, unit, values, envelope }: Strip): Column[] {
  const plain = name.replace(/ (current|speed)$/, "");
  const column = (what: string, list: readonly number[]): Column => [`${plain} ${what}${UNITS[unit]}`, list];
  if (envelope === undefined) return [column("", values)];
  return [column("", values), column("least ", envelope.least), column("greatest ", envelope.greatest)];
}

/** A row a time; a column a net (volts), current or speed, of every mode in turn. */
export const waveformCsv = (results: readonly Waveform[]): string =>
  results
    .map((result) => {
      const columns = stripsOf(result).flatMap(columnsOf);
      const rows = result.seconds.map((time, k): Field[] => [
        result.mode,
        time,
        ...columns.map(([, values]) => values[k]),
      ]);
      return lines([["mode", "seconds", ...columns.map(([name]) => name)], ...rows]);
    })
    .join("");
