/** Waveforms in the terminal: a strip a trace, drawn in dots, marks below. */
import { scaleLinear } from "d3-scale";
import type { Waveform } from "../bench/waveform/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { Canvas } from "./braille.ts";
import { harmless, unbound } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import type { TableOptions } from "./voltage-table.ts";
import { type Cursor, cursorsOf, drawnStrips, type Strip, secondsText, unitText } from "./waveform-words.ts";

const ROWS = 6;
const WIDEST = 100;
const LABELS = 10;

/** A plot of every mode. */
export function waveformPlot(circuit: Circuit, results: readonly Waveform[], options: TableOptions): string {
  const ink = inkFor(options.color);
  return results.map((result) => `${modeLines(circuit, result, options.width, ink).join("\n")}\n`).join("\n");
}

function modeLines(circuit: Circuit, result: Waveform, width: number, ink: Ink): string[] {
  const columns = Math.max(20, Math.min(WIDEST, width) - LABELS - 2);
  const { seconds } = result;
  const end = seconds.at(-1) ?? 1;
  const cursors = cursorsOf(result);
  const strips = drawnStrips(circuit, result);
  const column = (time: number) => Math.min(columns - 1, Math.floor((time / end) * columns));
  return [
    ...strips.flatMap((strip, k) => stripLines(strip, seconds, columns, ink, k)),
    `${" ".repeat(LABELS)}└${"─".repeat(columns)}`,
    ...letterLine(cursors, columns, column, ink),
    timeLine(end, columns),
  ];
}

/** Round limits that hold a trace; something to see for one that never moves. */
export function limits(values: readonly number[]): readonly [number, number] {
  const finite = values.length > 0 ? values : [0];
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of finite) {
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  const spare =
    high - low > 1e-6 * Math.max(Math.abs(low), Math.abs(high)) ? 0 : Math.max(1e-3, Math.abs(high) * 0.05);
  const [from = 0, to = 1] = scaleLinear([low - spare, high + spare], [0, 1])
    .nice(4)
    .domain();
  return [from, to];
}

function stripLines(
  strip: Strip,
  seconds: readonly number[],
  columns: number,
  ink: Ink,
  index: number,
): string[] {
  const [low, high] = limits(strip.values);
  const end = seconds.at(-1) || 1;
  const canvas = new Canvas(columns, ROWS);
  const dots = strip.values.map((value, k) => ({
    x: (seconds[k]! / end) * (2 * columns - 1),
    y: ((high - value) / (high - low)) * (4 * ROWS - 1),
  }));
  canvas.polyline(dots, [1]);
  const label = (row: number) =>
    row === 0 ? unitText(high, strip.unit) : row === ROWS - 1 ? unitText(low, strip.unit) : "";
  const rows = Array.from({ length: ROWS }, (_, row) => {
    const cells = Array.from({ length: columns }, (_, c) => {
      const bits = canvas.cell(c, row);
      return bits === 0 ? " " : String.fromCodePoint(0x2800 + bits);
    }).join("");
    return `${unbound(label(row)).padStart(LABELS)}┤${ink.path(cells.trimEnd(), index)}`;
  });
  return [`${" ".repeat(LABELS)} ${ink.strong(harmless(strip.name))}`, ...rows];
}

function letterLine(
  cursors: readonly Cursor[],
  columns: number,
  column: (time: number) => number,
  ink: Ink,
): string[] {
  if (cursors.length === 0) return [];
  const cells = new Array<string>(columns).fill(" ");
  for (const { letter, seconds } of cursors) cells[column(seconds)] = letter;
  return [`${" ".repeat(LABELS + 1)}${ink.accent(cells.join("").trimEnd())}`];
}

function timeLine(end: number, columns: number): string {
  const right = unbound(secondsText(end));
  const middle = unbound(secondsText(end / 2));
  const half = Math.floor(columns / 2);
  const line = `0${" ".repeat(Math.max(1, half - 1 - Math.floor(middle.length / 2)))}${middle}`;
  return `${" ".repeat(LABELS + 1)}${line}${" ".repeat(Math.max(1, columns - line.length - right.length))}${right}`;
}
