/** The spread on a terminal: least, typical and greatest, what is printed, and the causes. */
import type { SpreadChart } from "../bench/spread/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { decibels, plain } from "./numbers.ts";
import { causeText, type SpreadGroup, type SpreadRow, spreadGroups } from "./spread-rows.ts";
import { titled } from "./titled.ts";
import type { TableOptions } from "./voltage-table.ts";

const COLUMNS: readonly Column[] = [
  { align: "left" },
  { align: "left" },
  { align: "point" },
  { align: "point" },
  { align: "point" },
  { align: "left", gap: 1 },
  { align: "point" },
  { align: "left", gap: 1 },
];
const CAUSES_SHOWN = 3;

const shown = (value: number, unit: string): string =>
  unit.startsWith("dB") ? decibels(value) : plain(value);

function givenCells({ printed, reading }: SpreadRow): readonly [string, string] {
  const given = reading ?? printed;
  if (given === undefined) return ["", ""];
  return [plain(given.volts), given.inside ? "inside" : "outside"];
}

function cells(group: SpreadGroup, row: SpreadRow, first: boolean): readonly string[] {
  const { unit, least, typical, greatest } = row;
  const head = group.type === undefined ? harmless(group.name) : `${group.name} ${harmless(group.type)}`;
  const [given, inside] = givenCells(row);
  const numbers = [least, typical, greatest].map((value) => shown(value, unit));
  return [first ? head : "", harmless(row.label), ...numbers, unit, given, inside];
}

const causesText = ({ causes }: SpreadRow, most: number): string =>
  causes.slice(0, most).map(causeText).join(", ");

function heads(groups: readonly SpreadGroup[]): readonly string[] {
  const rows = groups.flatMap((group) => group.rows);
  const given = [
    ...(rows.some(({ printed }) => printed !== undefined) ? ["printed"] : []),
    ...(rows.some(({ reading }) => reading !== undefined) ? ["measured"] : []),
  ];
  return ["", "", "least", "typical", "greatest", "", given.join("/"), ""];
}

/** The table of one mode; as many causes behind each line as there is room for. */
function table(circuit: Circuit, chart: SpreadChart, width: number, ink: Ink): readonly string[] {
  const groups = spreadGroups(circuit, chart);
  const rows = groups.flatMap((group) =>
    group.rows.map((row, k) => ({ row, cells: cells(group, row, k === 0) })),
  );
  const laid = layOut([heads(groups), ...rows.map((each) => each.cells)], COLUMNS);
  const room = width - widthOf(laid[0] ?? "") - 2;
  const fitting = (row: SpreadRow) => {
    const texts = Array.from({ length: CAUSES_SHOWN + 1 }, (_, k) => causesText(row, CAUSES_SHOWN - k));
    return unbound(texts.find((text) => widthOf(text) <= room) ?? "");
  };
  const causes = rows.map(({ row }) => fitting(row));
  const across = Math.max(
    widthOf((laid[0] ?? "").trimEnd()),
    ...laid.slice(1).map((line, k) => widthOf(`${line}  ${causes[k]}`.trimEnd())),
  );
  const line = (text: string, k: number) => {
    const { row } = rows[k]!;
    const outside = row.printed?.inside === false || row.reading?.inside === false;
    const whole = `${outside ? ink.accent(text) : text}  ${ink.faint(causes[k]!)}`;
    return whole.trimEnd();
  };
  return [
    ink.faint((causes.some((text) => text !== "") ? `${laid[0]!}  causes` : laid[0]!).trimEnd()),
    ink.faint(rule(Math.min(width, across))),
    ...laid.slice(1).map((text, k) => line(causes[k] === "" ? text.trimEnd() : text, k)),
  ];
}

/** `1 of 2000 specimens ran away: T6`. */
export function failedText({ failed, trials }: SpreadChart): string {
  return failed
    .map(({ kind, part, trials: count }) => {
      const at = part === undefined ? "" : ` of ${part}`;
      return `${count} of ${trials} specimens have no operating point: ${kind}${kind === "thermal runaway" ? at : ""}${kind !== "thermal runaway" && part !== undefined ? ` at ${part}` : ""}`;
    })
    .join("; ");
}

function notes(chart: SpreadChart, width: number): readonly string[] {
  const texts = [
    Object.keys(chart.paths).length === 0 ? "" : "Gain at 1\u00a0kHz.",
    failedText(chart),
    chart.exact.length === 0 ? "" : `Taken as exact, having no tolerance: ${chart.exact.join(", ")}.`,
  ];
  return texts.filter((text) => text !== "").flatMap((text) => wrap(harmless(text), width));
}

/**
 * For every mode: of each transistor's emitter, base, collector and collector current, of the other nets and
 * of the gains the 2.5 %, 50 % and 97.5 % points, what is printed and whether it lies between, and the parts
 * that make most of the spread.
 */
export function spreadTable(
  circuit: Circuit,
  charts: readonly SpreadChart[],
  conditions: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const [first] = charts;
  const what = `${first?.trials ?? 0} specimens, seed ${first?.seed ?? 0}: nineteen in twenty lie between least and greatest`;
  const found = [
    ...charts.flatMap((chart) => [
      "",
      ink.strong(harmless(chart.mode)),
      ...table(circuit, chart, options.width, ink),
      ...notes(chart, options.width),
    ]),
  ];
  return titled(circuit, [what, ...conditions], found, options);
}
