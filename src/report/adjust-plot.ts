/** The condition against the setting in characters: dots of braille cells. */
import type { Adjustment } from "../bench/adjust.ts";
import { knobName, knobTick, lookedText, tickTexts } from "./adjust-words.ts";
import { Canvas } from "./braille.ts";
import { harmless, unbound, widthOf } from "./columns.ts";
import { across, type GraphAxis, runs, upright } from "./graph.ts";
import { type Ink, inkFor } from "./ink.ts";
import type { TableOptions } from "./voltage-table.ts";

const ROWS = 13;
const MOST_COLUMNS = 72;
const LEAST_COLUMNS = 16;

const pointsOf = ({ curve }: Adjustment) => curve.x.map((x, k) => ({ x, y: curve.y[k] ?? null }));

/** The numbers behind each curve, for this drawing and the one on paper. */
export function graphOf(result: Adjustment, intervals: number) {
  const points = pointsOf(result);
  const marks = [result.achieved, ...(result.target === undefined ? [] : [result.target])];
  return {
    points,
    x: across(points, result.curve.scale),
    y: upright(points, marks, intervals, result.unit === "decibel"),
    /** Where the knob ends up. */
    place: result.setting ?? result.value ?? 0,
  };
}

function foot(
  result: Adjustment,
  axis: GraphAxis,
  indent: number,
  columns: number,
  ink: Ink,
): readonly string[] {
  const column = (value: number) => Math.round(axis.at(value) * (columns - 1));
  const marked = new Set(axis.ticks.map(column));
  const line = Array.from({ length: columns }, (_, i) => (marked.has(i) ? "┴" : "─")).join("");
  let text = "";
  for (const tick of axis.ticks) {
    const mark = unbound(knobTick(tick, result.value_unit));
    const start = Math.max(0, indent + 1 + column(tick) - Math.floor(widthOf(mark) / 2));
    if (text !== "" && start < widthOf(text) + 2) continue;
    if (start + widthOf(mark) > indent + columns + 6) continue;
    text = text.padEnd(start) + mark;
  }
  return [ink.faint(`${" ".repeat(indent)}└${line}`), text];
}

/** The quantity of the condition over the range of the knob; a square where it ends up, a rule at the target. */
export function adjustPlot(result: Adjustment, options: TableOptions): readonly string[] {
  const { points, x, y, place } = graphOf(result, 6);
  const row = (value: number) => Math.round((1 - y.at(value)) * (ROWS - 1));
  const texts = tickTexts(y.ticks, result.unit);
  const labels = new Map(y.ticks.map((tick, k) => [row(tick), unbound(texts[k]!)]));
  const indent = Math.max(0, ...[...labels.values()].map(widthOf));
  const columns = Math.min(MOST_COLUMNS, options.width - indent - 3);
  if (columns < LEAST_COLUMNS) return [];
  const ink = inkFor(options.color);
  const dot = (px: number, py: number) => ({
    x: x.at(px) * (2 * columns - 1),
    y: 1.5 + (1 - y.at(py)) * 4 * (ROWS - 1),
  });
  const canvas = new Canvas(columns, ROWS);
  for (const run of runs(points))
    canvas.polyline(
      run.map((each) => dot(each.x, each.y)),
      [1, 0],
    );
  const here = dot(place, result.achieved);
  const spot = {
    column: Math.min(columns - 1, Math.floor(here.x / 2)),
    row: row(result.achieved),
  };
  const target = result.target === undefined ? -1 : row(result.target);
  const cell = (column: number, r: number) => {
    if (column === spot.column && r === spot.row) return ink.accent(result.met ? "■" : "□");
    const dots = canvas.cell(column, r);
    if (dots !== 0) return String.fromCodePoint(0x2800 + dots);
    if (r === target) return ink.faint("╌");
    return labels.has(r) && column % 2 === 0 ? ink.faint("·") : " ";
  };
  const body = Array.from({ length: ROWS }, (_, r) => {
    const label = (labels.get(r) ?? "").padStart(indent);
    const line = Array.from({ length: columns }, (_, column) => cell(column, r)).join("");
    return `${label}${ink.faint(labels.has(r) ? "┤" : "│")}${line}`.trimEnd();
  });
  return [
    harmless(`${lookedText(result)} against ${knobName(result)}`),
    ...body,
    ...foot(result, x, indent, columns, ink),
  ];
}
