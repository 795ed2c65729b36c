import type { SpreadChart } from "../bench/spread/results.ts";
import { type Field, lines } from "./csv.ts";

interface Numbers {
  readonly least: number;
  readonly typical: number;
  readonly greatest: number;
}

type Row = readonly [name: string, quantity: string, band: Numbers, more?: readonly Field[]];

function rowsOf({ nets, transistors, paths }: SpreadChart): readonly Row[] {
  return [
    ...Object.entries(nets).map(([name, net]): Row => {
      const { least_volts: least, typical_volts: typical, greatest_volts: greatest, printed, reading } = net;
      const given = [printed?.volts, printed?.inside, reading?.volts, reading?.inside];
      return [name, "volts", { least, typical, greatest }, given];
    }),
    ...Object.entries(transistors).map(([name, { ic_amps }]): Row => [name, "ic_amps", ic_amps]),
    ...Object.entries(paths).map(([name, { gain_db }]): Row => [name, "gain_db", gain_db]),
  ];
}

const HEAD = ["mode", "name", "quantity", "least", "typical", "greatest"];
const GIVEN = ["printed_volts", "printed_inside", "reading_volts", "reading_inside"];

/** A row a net, collector current or gain of each mode; least and greatest are the 2.5 % and 97.5 % points. */
export function spreadCsv(charts: readonly SpreadChart[]): string {
  const rows = charts.flatMap((chart) =>
    rowsOf(chart).map(([name, quantity, { least, typical, greatest }, more = []]) => [
      chart.mode,
      name,
      quantity,
      least,
      typical,
      greatest,
      ...GIVEN.map((_, k) => more[k]),
    ]),
  );
  return lines([[...HEAD, ...GIVEN], ...rows]);
}
