/** Speed of a governed motor on a terminal. */
import type { RegulationCurve, RegulationPoint } from "../bench/regulation/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import { inkFor } from "./ink.ts";
import { decimal, plain } from "./numbers.ts";
import { curveName, holdText, limitText, turnedNumber, unitText } from "./regulation-words.ts";
import { titled } from "./titled.ts";
import type { TableOptions } from "./voltage-table.ts";

const COLUMNS: readonly Column[] = [
  { align: "point" },
  { align: "right" },
  { align: "right" },
  { align: "point" },
  { align: "point" },
  { align: "left" },
];

/** Behind the column of what is turned. */
export const REGULATION_HEAD: readonly string[] = ["rpm", "swing", "worked %", "per s", ""];

/** One point: what is turned, speed, its swing, share of time that the contact is worked, how often, what is wrong. */
export function regulationRow(point: RegulationPoint, unit: RegulationCurve["unit"]): readonly string[] {
  const { value, rpm, held, least_rpm: least, greatest_rpm: greatest } = point;
  const { worked_share: share, periods_per_second: rate } = point;
  return [
    plain(turnedNumber(value, unit)),
    decimal(rpm, 0),
    least === undefined || greatest === undefined ? "" : `${decimal(least, 0)}–${decimal(greatest, 0)}`,
    share === undefined ? "" : decimal(100 * share, 1),
    rate === undefined ? "" : plain(rate),
    held === "regulated" ? "" : held,
  ];
}

function block(curve: RegulationCurve, { width, color }: TableOptions): readonly string[] {
  const ink = inkFor(color);
  const heads = [unitText(curve.unit), ...REGULATION_HEAD];
  const lines = layOut(
    [heads, ...curve.points.map((point) => regulationRow(point, curve.unit))],
    COLUMNS,
  ).map((line) => line.trimEnd());
  const line = ink.faint(rule(Math.max(...lines.map(widthOf))));
  const sentences = [holdText(curve), limitText(curve)].filter((text) => text !== "").join(" ");
  return [
    "",
    ink.strong(harmless(curveName(curve))),
    ink.faint(lines[0]!),
    line,
    ...lines.slice(1),
    line,
    ...wrap(unbound(harmless(sentences)), width),
  ];
}

/** A table a curve: the speed averaged, its swing, the share of time the contact is worked, how often. */
export const regulationTable = (
  circuit: Circuit,
  curves: readonly RegulationCurve[],
  phrases: readonly string[],
  options: TableOptions,
): string =>
  titled(
    circuit,
    ["Regulation of speed", ...phrases],
    curves.flatMap((curve) => block(curve, options)),
    options,
  );
