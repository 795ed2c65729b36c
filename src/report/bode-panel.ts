/** One panel of the Bode plot: its grid, its curves, and their names at their ends. */
import { line } from "d3-shape";
import { LABEL_SIZE, type Layout, LEADER, LEFT, type Panel, shortLabel } from "./bode-layout.ts";
import { type Curve, type CurvePoint, offsetText, silent } from "./curves.ts";
import { element, type Markup, together } from "./markup.ts";
import { decimal } from "./numbers.ts";
import { spreadOut } from "./spread-out.ts";

/** Five line colours that differ for every kind of sight (Okabe and Ito), on white and on black. */
const COLOURS = ["currentColor", "#0072B2", "#D55E00", "#009E73", "#CC79A7"] as const;
const DASHES = [undefined, "7 4", "1.5 3.5", "10 3 1.5 3", "3.5 2"] as const;
/** With no more points than this each is shown as a dot. */
const FEW = 12;

/** Stroke of the curve of this number. */
export const strokeOf = (index: number) => ({
  stroke: COLOURS[index % COLOURS.length]!,
  "stroke-width": 1.6,
  "stroke-dasharray": DASHES[index % DASHES.length],
  "stroke-linejoin": "round",
  fill: "none",
});

export const colourOf = (index: number): string => COLOURS[index % COLOURS.length]!;

type Value = (point: CurvePoint) => number | undefined;
const valueIn = (panel: Panel): Value => (panel.name === "Gain" ? ({ gain }) => gain : ({ phase }) => phase);

/** Horizontal rules with their values, vertical ones without. */
export function grid(
  panel: Panel,
  { across, x, frequencies }: Pick<Layout, "across" | "x" | "frequencies">,
): Markup {
  const labelled = new Set(frequencies.labels);
  const thin = (strong: boolean) => ({
    stroke: "currentColor",
    "stroke-width": 0.5,
    "stroke-opacity": strong ? 0.45 : 0.18,
  });
  const down = frequencies.marks.map((hertz) =>
    element("line", {
      x1: LEFT + x(hertz),
      x2: LEFT + x(hertz),
      y1: panel.top,
      y2: panel.top + panel.height,
      ...thin(labelled.has(hertz)),
    }),
  );
  const level = panel.axis.ticks.map((tick) =>
    together(
      element("line", {
        x1: LEFT,
        x2: LEFT + across,
        y1: panel.top + panel.y(tick),
        y2: panel.top + panel.y(tick),
        ...thin(tick === panel.axis.low || tick === panel.axis.high || tick === 0),
      }),
      element(
        "text",
        { x: LEFT - 7, y: panel.top + panel.y(tick) + 4, "text-anchor": "end", "font-size": LABEL_SIZE },
        panel.text?.(tick) ?? decimal(tick, 0),
      ),
    ),
  );
  const name = element(
    "text",
    { x: LEFT, y: panel.top - 9, "font-size": LABEL_SIZE, "font-style": "italic" },
    `${panel.name}, ${panel.unit}`,
  );
  return together(name, ...down, ...level);
}

function curve(panel: Panel, { x }: Layout, { points }: Curve, index: number): Markup | undefined {
  const value = valueIn(panel);
  const drawn = points.filter((point) => value(point) !== undefined);
  const path = line<CurvePoint>()
    .digits(2)
    .defined((point) => value(point) !== undefined)
    .x((point) => x(point.hertz))
    .y((point) => panel.y(value(point)!));
  const dots = points.length > FEW ? [] : drawn;
  if (drawn.length === 0) return undefined;
  return together(
    element("path", { d: path(points) ?? "", ...strokeOf(index) }),
    ...dots.map((point) =>
      element("circle", {
        cx: x(point.hertz),
        cy: panel.y(value(point)!),
        r: 2.2,
        fill: colourOf(index),
      }),
    ),
  );
}

/** The curves, cut off at the edges of the panel (by the window that a nested `svg` is). */
export function curvesIn(panel: Panel, layout: Layout, curves: readonly Curve[]): Markup {
  const window = {
    x: LEFT - 3,
    y: panel.top - 1,
    width: layout.across + 6,
    height: panel.height + 2,
    overflow: "hidden",
  };
  const drawn = curves.map((each, index) => curve(panel, layout, each, index));
  return element("svg", window, element("g", { transform: "translate(3 1)" }, together(...drawn)));
}

/** Where the curve leaves the panel on the right, units below the top of the panel. */
function endOf(panel: Panel, { points }: Curve): number | undefined {
  const value = valueIn(panel);
  const last = points.findLast((point) => value(point) !== undefined);
  if (last === undefined) return undefined;
  return Math.min(panel.height, Math.max(0, panel.y(value(last)!)));
}

/** The name of each curve at its right end, moved up or down so that none covers another. */
export function names(panel: Panel, layout: Layout, curves: readonly Curve[]): Markup {
  const shown = curves
    .map((each, index) => ({ each, index, end: endOf(panel, each) }))
    .filter(({ each, end }) => end !== undefined && !silent(each));
  const twoLines = panel.name === "Gain" && shown.some(({ each }) => offsetText(each) !== "");
  const spacing = twoLines ? 2.4 * LABEL_SIZE : 1.3 * LABEL_SIZE;
  const places = spreadOut(
    shown.map(({ end }) => end!),
    spacing,
    4,
    panel.height - (twoLines ? 20 : 6),
  );
  return together(
    ...shown.map(({ each, index, end }, i) =>
      name(each, index, LEFT + layout.across, panel.top + end!, panel.top + places[i]!, twoLines),
    ),
  );
}

function name(curve: Curve, index: number, x: number, from: number, to: number, twoLines: boolean): Markup {
  const at = { x: x + LEADER, "font-size": LABEL_SIZE };
  const thread = `M${x},${from.toFixed(2)}L${x + 6},${to.toFixed(2)}`;
  return together(
    element("path", { d: thread, fill: "none", stroke: colourOf(index), "stroke-width": 0.8 }),
    element("path", { d: `M${x + 6},${to.toFixed(2)}H${x + LEADER - 4}`, ...strokeOf(index) }),
    element("text", { ...at, y: to + 4 }, element("title", {}, curve.label), shortLabel(curve)),
    twoLines
      ? element("text", { ...at, y: to + 15, "font-size": 0.9 * LABEL_SIZE }, offsetText(curve))
      : undefined,
  );
}
