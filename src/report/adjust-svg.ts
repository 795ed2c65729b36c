/** The condition against the setting as a drawing. */
import { line } from "d3-shape";
import type { Adjustment } from "../bench/adjust.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { graphOf } from "./adjust-plot.ts";
import { knobName, knobTick, lookedText, outcome, tickTexts } from "./adjust-words.ts";
import { ACCENT, drawing, head, text } from "./drawing.ts";
import { runs } from "./graph.ts";
import { element, type Markup, together } from "./markup.ts";

const WIDTH = 760;
const LEFT = 84;
const ACROSS = 640;
const HEIGHT = 250;
const HEAD = 44;
const FOOT = 46;

const thin = (opacity: number) => ({
  stroke: "currentColor",
  "stroke-width": 0.5,
  "stroke-opacity": opacity,
});

function panel(result: Adjustment, top: number): Markup {
  const { points, x, y, place } = graphOf(result, 8);
  const [px, py] = [
    (value: number) => LEFT + ACROSS * x.at(value),
    (value: number) => top + HEIGHT * (1 - y.at(value)),
  ];
  const labels = tickTexts(y.ticks, result.unit);
  const across = y.ticks.map((tick, k) =>
    together(
      element("line", { x1: LEFT, x2: LEFT + ACROSS, y1: py(tick), y2: py(tick), ...thin(0.18) }),
      text(LEFT - 7, py(tick) + 4, labels[k]!, { "text-anchor": "end" }),
    ),
  );
  const down = x.ticks.map((tick) =>
    together(
      element("line", { x1: px(tick), x2: px(tick), y1: top, y2: top + HEIGHT, ...thin(0.18) }),
      text(px(tick), top + HEIGHT + 16, knobTick(tick, result.value_unit), { "text-anchor": "middle" }),
    ),
  );
  const path = line<{ x: number; y: number }>()
    .digits(2)
    .x((point) => px(point.x))
    .y((point) => py(point.y));
  const curve = { stroke: "currentColor", "stroke-width": 1.6, "stroke-linejoin": "round", fill: "none" };
  const { target, achieved } = result;
  return together(
    text(LEFT, top - 24, `${result.mode}: ${outcome(result)}`),
    text(LEFT, top - 8, lookedText(result), { "font-style": "italic" }),
    ...across,
    ...down,
    target === undefined
      ? undefined
      : element("line", {
          x1: LEFT,
          x2: LEFT + ACROSS,
          y1: py(target),
          y2: py(target),
          stroke: ACCENT,
          "stroke-width": 1,
          "stroke-dasharray": "6 4",
        }),
    ...runs(points).map((run) => element("path", { d: path(run) ?? "", ...curve })),
    element("circle", {
      cx: px(place),
      cy: py(achieved),
      r: 4.5,
      fill: result.met ? ACCENT : "none",
      stroke: ACCENT,
    }),
    text(LEFT + ACROSS / 2, top + HEIGHT + 34, knobName(result), {
      "text-anchor": "middle",
      "font-style": "italic",
    }),
  );
}

/** One panel a mode: the quantity of the condition over the range of the knob, the target, and what was found. */
export function adjustSvg(
  circuit: Circuit,
  results: readonly Adjustment[],
  conditions: readonly string[],
): string {
  const top = head(circuit.title, conditions, 8);
  const step = HEAD + HEIGHT + FOOT;
  return drawing(
    { width: WIDTH, height: top.bottom + step * results.length + 4 },
    {
      title: `Adjustment: ${circuit.title}`,
      description: results.map((result) => `${result.mode}: ${outcome(result)}.`).join(" "),
    },
    top.markup,
    ...results.map((result, k) => panel(result, top.bottom + k * step + HEAD)),
  );
}
