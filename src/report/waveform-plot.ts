/** Waveforms in the terminal: a strip a trace, drawn in dots, marks below. */
import { scaleLinear } from "d3-scale";
import type { Waveform } from "../bench/waveform/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { Canvas } from "./braille.ts";
import { harmless, unbound } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import type { TableOptions } from "./voltage-table.ts";
import { extremesOf, stretchesOf } from "./waveform-stretches.ts";
import {
  type Cursor,
  cursorsOf,
  drawnStrips,
  openTimes,
  type Strip,
  secondsText,
  unitText,
} from "./waveform-words.ts";

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
    ...contactRows(result, columns, ink),
    `${" ".repeat(LABELS)}└${"─".repeat(columns)}`,
    ...letterLine(cursors, columns, column, ink),
    timeLine(end, columns),
  ];
}

/** Round limits that hold a trace; something to see for one that never moves. */
export function limits(strip: Strip): readonly [number, number] {
  const [low, high] = extremesOf(strip);
  const spare =
    high - low > 1e-6 * Math.max(Math.abs(low), Math.abs(high)) ? 0 : Math.max(1e-3, Math.abs(high) * 0.05);
  const [from = 0, to = 1] = scaleLinear([low - spare, high + spare], [0, 1])
    .nice(4)
    .domain();
  return [from, to];
}

/** Lines where a trace is a line, upright strokes where it is a band. */
function drawStrip(strip: Strip, seconds: readonly number[], columns: number): Canvas {
  const [low, high] = limits(strip);
  const end = seconds.at(-1) || 1;
  const canvas = new Canvas(columns, ROWS);
  const x = (time: number) => (time / end) * (2 * columns - 1);
  // to a millionth of a dot: what rests half way between two dots keeps to one of them
  const y = (value: number) => Math.round(((high - value) / (high - low)) * (4 * ROWS - 1) * 1e6) / 1e6;
  for (const { kind, from, to } of stretchesOf(strip)) {
    if (kind === "line") {
      const dots = strip.values
        .slice(from, to + 1)
        .map((value, k) => ({ x: x(seconds[from + k]!), y: y(value) }));
      canvas.polyline(dots, [1]);
    } else
      for (let k = from + 1; k <= to; k++)
        drawBand(canvas, strip, k, [x(seconds[k - 1]!), x(seconds[k]!)], y);
  }
  return canvas;
}

function drawBand(
  canvas: Canvas,
  { envelope }: Strip,
  k: number,
  [left, right]: readonly [number, number],
  y: (value: number) => number,
): void {
  const [top, foot] = [y(envelope!.greatest[k]!), y(envelope!.least[k]!)];
  for (let x = Math.round(left); x <= Math.round(right); x++)
    canvas.polyline(
      [
        { x, y: top },
        { x, y: foot },
      ],
      [1],
    );
}

function stripLines(
  strip: Strip,
  seconds: readonly number[],
  columns: number,
  ink: Ink,
  index: number,
): string[] {
  const [low, high] = limits(strip);
  const canvas = drawStrip(strip, seconds, columns);
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
  for (const { letter, seconds } of cursors) cells[free(cells, column(seconds))] = letter;
  return [`${" ".repeat(LABELS + 1)}${ink.accent(cells.join("").trimEnd())}`];
}

/** The next place that is not taken, or the last one. */
function free(cells: readonly string[], from: number): number {
  const next = cells.findIndex((cell, k) => k >= from && cell === " ");
  return next < 0 ? cells.length - 1 : next;
}

const BLOCKS = " ▁▂▃▄▅▆▇█";

/** For every governor, how much of each column's time its contact is open. */
function contactRows(result: Waveform, columns: number, ink: Ink): string[] {
  const end = result.seconds.at(-1) || 1;
  return (result.contacts ?? []).map((contact) => {
    const open = openTimes(result, contact);
    const cells = Array.from({ length: columns }, (_, c) => {
      const [from, to] = [(c * end) / columns, ((c + 1) * end) / columns];
      const share =
        open.reduce((sum, [a, b]) => sum + Math.max(0, Math.min(b, to) - Math.max(a, from)), 0) / (to - from);
      return BLOCKS[share > 0 ? Math.max(1, Math.round(8 * share)) : 0];
    });
    const label = `${contact.contact} open`.slice(0, LABELS).padStart(LABELS);
    return `${harmless(label)}┤${ink.faint(cells.join("").trimEnd())}`;
  });
}

function timeLine(end: number, columns: number): string {
  const right = unbound(secondsText(end));
  const middle = unbound(secondsText(end / 2));
  const half = Math.floor(columns / 2);
  const line = `0${" ".repeat(Math.max(1, half - 1 - Math.floor(middle.length / 2)))}${middle}`;
  return `${" ".repeat(LABELS + 1)}${line}${" ".repeat(Math.max(1, columns - line.length - right.length))}${right}`;
}
