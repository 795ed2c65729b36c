/** The regulation chart as a drawing: speed against battery and load, and where it can no longer hold. */
import { line } from "d3-shape";
import type { RegulationCurve, RegulationPoint } from "../bench/regulation/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { ACCENT, drawing, head, text } from "./drawing.ts";
import { across, type GraphPoint, upright } from "./graph.ts";
import { element, type Markup, together } from "./markup.ts";
import { curveName, holdText, limitText, turnedNumber, turnedText, unitText } from "./regulation-words.ts";

const WIDTH = 760;
const LEFT = 84;
const ACROSS = 640;
const HEIGHT = 210;
const HEAD = 44;
const FOOT = 54;

const thin = (opacity: number) => ({
  stroke: "currentColor",
  "stroke-width": 0.5,
  "stroke-opacity": opacity,
});

interface Scales {
  readonly px: (value: number) => number;
  readonly py: (rpm: number) => number;
}

const pointsOf = ({ points, unit }: RegulationCurve): readonly GraphPoint[] =>
  points.map(({ value, rpm }) => ({ x: turnedNumber(value, unit), y: rpm }));

/** A disc where the speed is held, a ring where it is too slow, a cross where the motor runs away. */
function mark({ held }: RegulationPoint, x: number, y: number): Markup {
  const common = { stroke: "currentColor", "stroke-width": 1.2 };
  if (held === "runs away") {
    return element("path", {
      d: `M${(x - 4).toFixed(2)},${(y - 4).toFixed(2)}l8,8m0,-8l-8,8`,
      fill: "none",
      ...common,
    });
  }
  const fill = held === "regulated" ? "currentColor" : "none";
  return element("circle", { cx: x, cy: y, r: 3.5, fill, ...common });
}

/** How far the speed swings over a period. */
function swing({ least_rpm: least, greatest_rpm: greatest }: RegulationPoint, x: number, py: Scales["py"]) {
  if (least === undefined || greatest === undefined) return undefined;
  return element("line", {
    x1: x,
    x2: x,
    y1: py(least),
    y2: py(greatest),
    stroke: ACCENT,
    "stroke-width": 2,
  });
}

function limitMark({ limit, unit }: RegulationCurve, px: Scales["px"], top: number): Markup | undefined {
  if (limit === undefined) return undefined;
  const x = px(turnedNumber(limit, unit));
  return together(
    element("line", {
      x1: x,
      x2: x,
      y1: top,
      y2: top + HEIGHT,
      stroke: ACCENT,
      "stroke-width": 1,
      "stroke-dasharray": "6 3",
    }),
    text(x + 5, top + HEIGHT - 6, turnedText(limit, unit), { fill: ACCENT }),
  );
}

function panel(curve: RegulationCurve, top: number): Markup {
  const points = pointsOf(curve);
  const x = across(points, "linear");
  const extremes = curve.points.flatMap(({ least_rpm, greatest_rpm }) =>
    [least_rpm, greatest_rpm].filter((rpm) => rpm !== undefined),
  );
  const y = upright(points, [0, ...extremes], 6, false);
  const px = (value: number) => LEFT + ACROSS * x.at(value);
  const py = (rpm: number) => top + HEIGHT * (1 - y.at(rpm));
  const path = line<GraphPoint>()
    .digits(2)
    .x((point) => px(point.x))
    .y((point) => py(point.y ?? 0));
  return together(
    text(LEFT, top - 24, curveName(curve)),
    text(LEFT, top - 8, "rpm", { "font-style": "italic" }),
    ...y.ticks.map((tick) =>
      together(
        element("line", { x1: LEFT, x2: LEFT + ACROSS, y1: py(tick), y2: py(tick), ...thin(0.18) }),
        text(LEFT - 7, py(tick) + 4, String(tick), { "text-anchor": "end" }),
      ),
    ),
    ...x.ticks.map((tick) =>
      together(
        element("line", { x1: px(tick), x2: px(tick), y1: top, y2: top + HEIGHT, ...thin(0.18) }),
        text(px(tick), top + HEIGHT + 16, `${tick}\u00a0${unitText(curve.unit)}`, {
          "text-anchor": "middle",
        }),
      ),
    ),
    element("path", { d: path(points) ?? "", fill: "none", stroke: "currentColor", "stroke-width": 1.4 }),
    ...curve.points.map((point, k) =>
      together(swing(point, px(points[k]!.x), py), mark(point, px(points[k]!.x), py(point.rpm))),
    ),
    limitMark(curve, px, top),
    text(
      LEFT,
      top + HEIGHT + 34,
      [holdText(curve), limitText(curve)].filter((each) => each !== "").join(" "),
    ),
  );
}

/** A panel a curve, below one another. */
export function regulationSvg(
  circuit: Circuit,
  curves: readonly RegulationCurve[],
  phrases: readonly string[],
): string {
  const signs = "● held, ○ too slow, × runs away; the bar is the swing over a period";
  const { markup, bottom } = head(circuit.title, ["Regulation of speed", ...phrases, signs], LEFT);
  const tops = curves.map((_, k) => bottom + HEAD + k * (HEAD + HEIGHT + FOOT));
  const height = bottom + curves.length * (HEAD + HEIGHT + FOOT) + 8;
  const description = curves
    .map((curve) => `${curveName(curve)}. ${holdText(curve)} ${limitText(curve)}`)
    .join(" ");
  return drawing(
    { width: WIDTH, height },
    { title: `${circuit.title}: regulation of speed`, description },
    markup,
    ...curves.map((curve, k) => panel(curve, tops[k]!)),
  );
}
