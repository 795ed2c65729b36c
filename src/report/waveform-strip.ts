/** One trace of an oscillogram: graticule, levels, the trace itself as line or band. */
import type { ScaleLinear } from "d3-scale";
import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import { colourOf } from "./bode-panel.ts";
import { text } from "./drawing.ts";
import { element, type Markup, together } from "./markup.ts";
import { limits } from "./waveform-plot.ts";
import { type Stretch, stretchesOf } from "./waveform-stretches.ts";
import { type Strip, unitText } from "./waveform-words.ts";

export type Scale = ScaleLinear<number, number>;

/** Where a strip stands. */
export interface StripPlace {
  readonly top: number;
  readonly height: number;
  readonly left: number;
  readonly right: number;
  readonly time: Scale;
}

/** Units between two levels of the graticule, at least about. */
const LEVEL = 34;

const FINE = {
  stroke: "currentColor",
  "stroke-width": 0.7,
  "stroke-opacity": 0.4,
  "stroke-dasharray": "1 4",
};
const FRAME = { stroke: "currentColor", "stroke-width": 0.8, "stroke-opacity": 0.8 };

/** Graticule of fine dots at round values, the frame open to the right, the trace in its colour, named above. */
export function stripPiece(
  strip: Strip,
  seconds: readonly number[],
  index: number,
  { top, height, left, right, time }: StripPlace,
): Markup {
  const y = scaleLinear(limits(strip), [top + height, top]);
  const levels = y.ticks(Math.max(2, Math.round(height / LEVEL)));
  const level = (value: number) => ({ x1: left, x2: right, y1: y(value), y2: y(value) });
  return together(
    ...levels.map((value) =>
      element("line", {
        ...level(value),
        ...FINE,
        ...(value === 0 && { "stroke-dasharray": undefined }),
      }),
    ),
    ...time
      .ticks(10)
      .map((tick) => element("line", { x1: time(tick), x2: time(tick), y1: top, y2: top + height, ...FINE })),
    element("line", { x1: left, x2: left, y1: top, y2: top + height, ...FRAME }),
    ...levels.map((value) =>
      text(left - 7, y(value) + 4, levelText(value, strip.unit), { "text-anchor": "end" }),
    ),
    text(left + 4, top - 7, strip.name, { "font-style": "italic" }),
    ...tracePieces(strip, seconds, index, time, y),
  );
}

/** Lines and bands of a trace, each of them one path. */
function tracePieces(
  strip: Strip,
  seconds: readonly number[],
  index: number,
  time: Scale,
  y: Scale,
): (Markup | undefined)[] {
  const stretches = stretchesOf(strip);
  const drawn = (kind: Stretch["kind"], draw: (stretch: Stretch) => string) =>
    stretches
      .filter((stretch) => stretch.kind === kind)
      .map(draw)
      .join("");
  const lines = drawn("line", (stretch) => linePath(strip, seconds, stretch, time, y));
  const bands = drawn("band", (stretch) => bandPath(strip, seconds, stretch, time, y));
  const stroke = { stroke: colourOf(index), "stroke-linejoin": "round" };
  return [
    bands === ""
      ? undefined
      : element("path", {
          d: bands,
          ...stroke,
          "stroke-width": 0.8,
          fill: colourOf(index),
          "fill-opacity": 0.3,
        }),
    lines === "" ? undefined : element("path", { d: lines, ...stroke, "stroke-width": 1.4, fill: "none" }),
  ];
}

const linePath = (
  { values }: Strip,
  seconds: readonly number[],
  { from, to }: Stretch,
  time: Scale,
  y: Scale,
): string =>
  line<number>()
    .digits(2)
    .x((_, k) => time(seconds[from + k]!))
    .y((value) => y(value))(values.slice(from, to + 1)) ?? "";

/** Forth along the greatest values in steps, back along the least. */
function bandPath(
  { envelope }: Strip,
  seconds: readonly number[],
  { from, to }: Stretch,
  time: Scale,
  y: Scale,
): string {
  const x = (k: number) => time(seconds[k]!).toFixed(2);
  const at = (list: readonly number[], k: number) => y(list[k]!).toFixed(2);
  const { least, greatest } = envelope!;
  let path = `M${x(from)},${at(greatest, from + 1)}`;
  for (let k = from + 1; k <= to; k++) path += `V${at(greatest, k)}H${x(k)}`;
  for (let k = to; k > from; k--) path += `V${at(least, k)}H${x(k - 1)}`;
  return `${path}Z`;
}

const levelText = (level: number, unit: Strip["unit"]): string =>
  unitText(level, unit)
    .replace(/(\.\d*?)0+(?=\D|$)/, "$1")
    .replace(/\.(?=\D|$)/, "")
    .replace("\u00a0", "\u2009");
