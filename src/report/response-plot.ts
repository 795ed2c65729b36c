/** The response as a plot in characters: dots of braille cells, each path in its own dashes. */
import type { PathResponse } from "../bench/results.ts";
import { type Axis, type FrequencyAxis, frequencyAxis, gainAxis } from "./axes.ts";
import { Canvas } from "./braille.ts";
import { harmless, widthOf, wrap } from "./columns.ts";
import { type Curve, curvesOf, offsetText, silent } from "./curves.ts";
import { type Ink, inkFor } from "./ink.ts";
import { decimal, hertzMark } from "./numbers.ts";
import { spreadOut } from "./spread-out.ts";
import type { TableOptions } from "./voltage-table.ts";

const DEFAULT_HEIGHT = 16;
/** Below this many columns for the curves a plot says nothing. */
const LEAST_COLUMNS = 16;
/** Characters of a direct label at most. */
const LONGEST_LABEL = 20;

/** Dots drawn and left out in turn, by path. */
const DASHES: readonly (readonly number[])[] = [
  [1, 0],
  [5, 4],
  [1, 3],
  [9, 3, 1, 3],
  [2, 2],
];
/** What a path's dashes look like in a short stretch, before its label. */
const SAMPLES = ["⠒⠒⠒", "⠒⠂⠒", "⠂⠂⠂", "⠒⠒⠂", "⠂⠒⠂"] as const;

interface Frame {
  readonly columns: number;
  readonly rows: number;
  readonly frequencies: FrequencyAxis;
  readonly gains: Axis;
}

/** Dots across and down (2 and 4 a cell) of a point of a curve. */
function dot({ columns, rows, frequencies: f, gains: g }: Frame, hertz: number, gain: number) {
  const x = Math.log(hertz / f.low) / Math.log(f.high / f.low);
  const y = (g.high - gain) / (g.high - g.low);
  // the limits of the axis stand in the middle of the first and the last row
  return { x: x * (2 * columns - 1), y: 1.5 + y * 4 * (rows - 1) };
}

/** The curves, one canvas a curve, so that each can have its colour. */
function draw(frame: Frame, curve: Curve, index: number): Canvas {
  const canvas = new Canvas(frame.columns, frame.rows);
  const dots = curve.points.map(({ hertz, gain }) => dot(frame, hertz, gain));
  const [only] = dots;
  if (dots.length === 1 && only !== undefined) canvas.blob(only);
  canvas.polyline(dots, DASHES[index % DASHES.length]!);
  return canvas;
}

const clipped = (text: string, length: number): string =>
  widthOf(text) > length ? `${[...text].slice(0, length - 1).join("")}…` : text;

/** Names at the ends of curves: a quarter of the width at most. */
const namesOf = (curves: readonly Curve[], width: number): readonly string[] =>
  curves.map(({ label }, index) => {
    const name = clipped(harmless(label), Math.min(LONGEST_LABEL, Math.floor(width / 4)));
    return `${SAMPLES[index % SAMPLES.length]} ${name}`;
  });

/** The row at which each curve's label stands: that of its end, moved so that none covers another. */
function labelRows(frame: Frame, curves: readonly Curve[]): readonly number[] {
  const ends = curves.map(({ points }) => {
    const last = points.at(-1);
    const y = last === undefined ? 0 : dot(frame, last.hertz, last.gain).y;
    return Math.min(frame.rows - 1, Math.max(0, y / 4));
  });
  return spreadOut(ends, 1, 0, frame.rows - 1).map(Math.round);
}

/** Gain labels by row. */
function gainLabels({ gains, rows }: Frame): ReadonlyMap<number, string> {
  const { low, high, ticks } = gains;
  const row = (tick: number) => Math.round(((high - tick) / (high - low)) * (rows - 1));
  return new Map(ticks.map((tick) => [row(tick), decimal(tick, 0)]));
}

/** One row of cells: the curve on top wins the colour, all share the dots; thin rules where nothing is. */
function cells(canvases: readonly Canvas[], row: number, columns: number, ruled: boolean, ink: Ink): string {
  return Array.from({ length: columns }, (_, column) => {
    const owner = canvases.findLastIndex((canvas) => canvas.cell(column, row) !== 0);
    if (owner < 0) return ruled && column % 2 === 0 ? ink.faint("·") : " ";
    const dots = canvases.reduce((all, canvas) => all | canvas.cell(column, row), 0);
    return ink.path(String.fromCodePoint(0x2800 + dots), owner);
  }).join("");
}

/** The frequency axis: a rule with marks, and labels under the marks as far as there is room. */
function foot(frame: Frame, indent: number, ink: Ink): readonly string[] {
  const { columns, frequencies } = frame;
  const column = (hertz: number) => Math.floor(dot(frame, hertz, 0).x / 2);
  const marked = new Set(frequencies.labels.map(column));
  const axis = Array.from({ length: columns }, (_, i) => (marked.has(i) ? "┴" : "─")).join("");
  let text = "";
  for (const hertz of frequencies.labels) {
    const mark = hertzMark(hertz);
    const start = indent + 1 + column(hertz) - Math.floor(mark.length / 2);
    if (start < widthOf(text) + (text === "" ? 0 : 1)) continue;
    if (start + mark.length > indent + 1 + columns + 3) continue;
    text = text.padEnd(start) + mark;
  }
  return [ink.faint(`${" ".repeat(indent)}└${axis}`), `${text} Hz`];
}

/** As many rows up to `most` as give every interval of the gain axis the same height. */
function frameFor(curves: readonly Curve[], columns: number, most: number): Frame {
  const gains = gainAxis(curves, Math.floor((most - 1) / 2));
  const intervals = gains.ticks.length - 1;
  const rows = intervals * Math.max(1, Math.floor((most - 1) / intervals)) + 1;
  return { columns, rows, gains, frequencies: frequencyAxis(curves, (decades) => columns / decades / 5) };
}

function body(
  frame: Frame,
  curves: readonly Curve[],
  labels: readonly string[],
  indent: number,
  ink: Ink,
): readonly string[] {
  const canvases = curves.map((curve, i) => draw(frame, curve, i));
  const names = labelRows(frame, curves);
  const ticks = gainLabels(frame);
  return Array.from({ length: frame.rows }, (_, row) => {
    const tick = ticks.get(row);
    const label = names.indexOf(row);
    const axis = `${(tick ?? "").padStart(indent)}${ink.faint(tick === undefined ? "│" : "┤")}`;
    const name = label < 0 ? "" : ` ${ink.path(labels[label]!, label)}`;
    return (axis + cells(canvases, row, frame.columns, tick !== undefined, ink) + name).trimEnd();
  });
}

/**
 * Gain against frequency in braille dots, at most `width` columns wide; each path has its own dashes
 * and its name at the end of its curve. Empty where `width` leaves no room for a plot, or nothing is
 * there to draw.
 */
export function responsePlot(
  responses: readonly PathResponse[],
  options: TableOptions & { height?: number },
): string {
  const { curves: all, reference } = curvesOf(responses);
  const curves = all.filter((curve) => !silent(curve));
  const rows = Math.max(6, curves.length, options.height ?? DEFAULT_HEIGHT);
  const labels = namesOf(curves, options.width);
  const indent = Math.max(0, ...[...gainLabels(frameFor(curves, 1, rows)).values()].map(widthOf));
  const columns = options.width - indent - 1 - Math.max(3, ...labels.map((label) => widthOf(label) + 1));
  if (curves.length === 0 || columns < LEAST_COLUMNS) return "";
  const ink = inkFor(options.color);
  const frame = frameFor(curves, columns, rows);
  const offsets = curves.filter((curve) => curve.offset !== undefined);
  const lines = [
    ...[reference, ...offsets.map((curve) => `${curve.label}: ${offsetText(curve)}`)].flatMap((text) =>
      wrap(harmless(text), options.width),
    ),
    ...body(frame, curves, labels, indent, ink),
    ...foot(frame, indent, ink),
  ];
  return `${lines.join("\n")}\n`;
}
