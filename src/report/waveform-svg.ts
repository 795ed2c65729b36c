/** The oscillogram: a strip a trace over one axis of time, cursors at the marks. */
import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import type { Waveform } from "../bench/waveform/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { strokeOf } from "./bode-panel.ts";
import { ACCENT, drawing, head, text } from "./drawing.ts";
import { element, type Markup, together } from "./markup.ts";
import { limits } from "./waveform-plot.ts";
import { type Cursor, cursorsOf, drawnStrips, type Strip, secondsText, unitText } from "./waveform-words.ts";

const WIDTH = 760;
const LEFT = 76;
const RIGHT = 24;
const ACROSS = WIDTH - LEFT - RIGHT;
/** All strips of a mode together, and the least of one. */
const HEIGHT = 420;
const LEAST = 92;
const GAP = 30;
const ROW = 15;

/** An oscillogram of every mode, as an SVG document. */
export function waveformSvg(
  circuit: Circuit,
  results: readonly Waveform[],
  conditions: readonly string[],
): string {
  const top = head(circuit.title, ["Waveforms", ...conditions], LEFT);
  let y = top.bottom;
  const pieces = results.map((result) => {
    const piece = modePiece(circuit, result, y);
    y = piece.bottom;
    return piece.markup;
  });
  return drawing(
    { width: WIDTH, height: y + 10 },
    {
      title: `Waveforms: ${circuit.title}`,
      description: results.map((result) => description(circuit, result)).join(" "),
    },
    top.markup,
    ...pieces,
  );
}

function description(circuit: Circuit, result: Waveform): string {
  const strips = drawnStrips(circuit, result).map(({ name, unit }) => {
    const { least, greatest } = result.readings[name]!;
    return `${name} from ${unitText(least, unit)} to ${unitText(greatest, unit)}`;
  });
  return `${result.mode}, 0 to ${secondsText(result.seconds.at(-1) ?? 0)}: ${strips.join(", ")}.`;
}

interface Placed {
  readonly markup: Markup;
  readonly bottom: number;
}

function modePiece(circuit: Circuit, result: Waveform, top: number): Placed {
  const strips = drawnStrips(circuit, result);
  const height = Math.max(LEAST, (HEIGHT - GAP * strips.length) / Math.max(1, strips.length));
  const end = result.seconds.at(-1) || 1;
  const time = scaleLinear([0, end], [LEFT, LEFT + ACROSS]);
  const first = top + 44;
  const cursors = cursorsOf(result);
  const foot = first + strips.length * (height + GAP) - GAP;
  const drawn = strips.map((strip, k) =>
    stripPiece(strip, result.seconds, k, first + k * (height + GAP), height, time),
  );
  const ticks = time.ticks(10);
  return {
    markup: together(
      text(LEFT, top + 18, result.mode, { "font-style": "italic", "font-size": 13 }),
      ...drawn,
      ...ticks.map((tick) => text(time(tick), foot + 17, tickText(tick, end), { "text-anchor": "middle" })),
      text(LEFT + ACROSS / 2, foot + 34, `Time, ${scaleOf(end).unit}`, {
        "text-anchor": "middle",
        "font-style": "italic",
      }),
      ...cursorLines(cursors, time, first, foot),
      ...cursors.map(({ letter, seconds, what }, k) =>
        text(LEFT, foot + 56 + k * ROW, `${letter}  ${secondsText(seconds, 5)}  ${what}`),
      ),
    ),
    bottom: foot + 48 + cursors.length * ROW,
  };
}

/** One prefix for the whole axis of time. */
function scaleOf(end: number): { readonly by: number; readonly unit: string } {
  if (end >= 1) return { by: 1, unit: "s" };
  if (end >= 1e-3) return { by: 1e3, unit: "ms" };
  return end >= 1e-6 ? { by: 1e6, unit: "µs" } : { by: 1e9, unit: "ns" };
}

const tickText = (tick: number, end: number): string =>
  String(Number((tick * scaleOf(end).by).toPrecision(6))).replace("-", "\u2212");

/** Graticule of fine dots at round values, the frame open to the right, the trace in its stroke. */
function stripPiece(
  strip: Strip,
  seconds: readonly number[],
  index: number,
  top: number,
  height: number,
  time: ReturnType<typeof scaleLinear<number, number>>,
): Markup {
  const [low, high] = limits(strip.values);
  const y = scaleLinear([low, high], [top + height, top]);
  const levels = y.ticks(Math.max(2, Math.round(height / 34)));
  const columns = time.ticks(10);
  const path = line<number>()
    .digits(2)
    .x((_, k) => time(seconds[k]!))
    .y((value) => y(value));
  const fine = {
    stroke: "currentColor",
    "stroke-width": 0.7,
    "stroke-opacity": 0.4,
    "stroke-dasharray": "1 4",
  };
  const frame = { stroke: "currentColor", "stroke-width": 0.8, "stroke-opacity": 0.8 };
  return together(
    ...levels.map((level) =>
      element("line", {
        x1: LEFT,
        x2: LEFT + ACROSS,
        y1: y(level),
        y2: y(level),
        ...(level === 0 ? { ...fine, "stroke-dasharray": undefined } : fine),
      }),
    ),
    ...columns.map((tick) =>
      element("line", { x1: time(tick), x2: time(tick), y1: top, y2: top + height, ...fine }),
    ),
    element("line", { x1: LEFT, x2: LEFT, y1: top, y2: top + height, ...frame }),
    ...levels.map((level) =>
      text(LEFT - 7, y(level) + 4, levelText(level, strip.unit), { "text-anchor": "end" }),
    ),
    text(LEFT + 4, top - 7, strip.name, { "font-style": "italic" }),
    element("path", { d: path(strip.values) ?? "", ...strokeOf(index) }),
  );
}

const levelText = (level: number, unit: Strip["unit"]): string => {
  const words = unitText(level, unit);
  return words
    .replace(/(\.\d*?)0+(?=\D|$)/, "$1")
    .replace(/\.(?=\D|$)/, "")
    .replace("\u00a0", "\u2009");
};

function cursorLines(
  cursors: readonly Cursor[],
  time: ReturnType<typeof scaleLinear<number, number>>,
  top: number,
  bottom: number,
): Markup[] {
  return cursors.map(({ letter, seconds }) => {
    const x = time(seconds);
    return together(
      element("line", {
        x1: x,
        x2: x,
        y1: top - 16,
        y2: bottom,
        stroke: ACCENT,
        "stroke-width": 1,
        "stroke-dasharray": "6 3",
      }),
      text(x, top - 19, letter, { "text-anchor": "middle", fill: ACCENT, "font-weight": "bold" }),
    );
  });
}
