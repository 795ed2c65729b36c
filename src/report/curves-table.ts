/** A type's characteristics in numbers: on a terminal, and as comma-separated values. */
import { ROUND_VOLTS, type TypeCurves } from "../bench/curves.ts";
import { layOut, rule, unbound, widthOf } from "./columns.ts";
import { lines } from "./csv.ts";
import { amps, celsius, decimal } from "./numbers.ts";
import { quantityText } from "./quantities.ts";
import type { TableOptions } from "./voltage-table.ts";

/** The collector current at round voltages, a line a base current, and hfe at a few currents. */
export function curvesTable(of: TypeCurves, { width }: TableOptions): string {
  const minus = of.device === "pnp" ? "−" : "";
  return [
    unbound(`${of.type}  ${of.device} ${of.material}, junction at ${celsius(of.junction_celsius)}`),
    "",
    `${minus}I_C at ${minus}V_CE`,
    ...table(outputRows(of, `${minus}I_B`), width),
    "",
    "hfe, freed of leakage",
    ...table(gainRows(of, `${minus}I_C`), width),
    "",
  ].join("\n");
}

function outputRows({ output }: TypeCurves, corner: string): readonly (readonly string[])[] {
  const grid = output[0]?.vce_volts ?? [];
  const shown = [...ROUND_VOLTS.filter((volts) => grid.includes(volts)), grid.at(-1) ?? 0];
  const voltages = [...new Set(shown)];
  return [
    [corner, ...voltages.map((volts) => quantityText(volts, "volt"))],
    ...output.map(({ ib_amps, ic_amps }) => [
      quantityText(ib_amps, "ampere"),
      ...voltages.map((volts) => amps(ic_amps[grid.indexOf(volts)] ?? 0)),
    ]),
  ];
}

/** A few of the points, the last among them. */
const EVERY = 8;

function gainRows({ gain }: TypeCurves, corner: string): readonly (readonly string[])[] {
  const currents = gain[0]?.ic_amps ?? [];
  const shown = currents.flatMap((_, k) => ((currents.length - 1 - k) % EVERY === 0 ? [k] : []));
  return [
    [corner, ...gain.map(({ sample }) => sample)],
    ...shown.map((k) => [amps(currents[k] ?? 0), ...gain.map(({ hfe }) => decimal(hfe[k] ?? 0, 0))]),
  ];
}

/** On a narrow terminal the last columns go. */
function table(rows: readonly (readonly string[])[], width: number): readonly string[] {
  for (let columns = rows[0]?.length ?? 0; columns > 2; columns--) {
    const laid = laidOut(rows, columns);
    if (laid.every((line) => widthOf(line) <= width)) return laid;
  }
  return laidOut(rows, 2);
}

function laidOut(rows: readonly (readonly string[])[], columns: number): readonly string[] {
  const right = Array.from({ length: columns }, () => ({ align: "right" as const }));
  const [head = "", ...body] = layOut(rows, right).map(unbound);
  return [head, rule(widthOf(head)), ...body];
}

/** A row a point of a curve, SI units, magnitudes. */
export function curvesCsv({ type, output, gain }: TypeCurves): string {
  return lines([
    ["type", "curve", "ib_amps", "vce_volts", "ic_amps", "hfe"],
    ...output.flatMap(({ ib_amps, vce_volts, ic_amps }) =>
      vce_volts.map((volts, k) => [type, "output", ib_amps, volts, ic_amps[k], undefined]),
    ),
    ...gain.flatMap(({ sample, ic_amps, hfe }) =>
      ic_amps.map((ic, k) => [type, sample, undefined, undefined, ic, hfe[k]]),
    ),
  ]);
}
