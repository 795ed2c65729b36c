/** Distortion against output power, both logarithmic, with the onset of clipping marked. */
import { line } from "d3-shape";
import type { PowerCurve, PowerPoint } from "../bench/power/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { colourOf, strokeOf } from "./bode-panel.ts";
import { ACCENT, drawing, head, text } from "./drawing.ts";
import { type GraphAxis, logarithmic } from "./graph.ts";
import { element, type Markup, together } from "./markup.ts";
import { hertz, withUnit } from "./numbers.ts";
import { curveName, hasPower, levelText, limitsText, outputUnit } from "./power-words.ts";

const WIDTH = 760;
const LEFT = 76;
const ACROSS = 640;
const HEIGHT = 320;
const HEAD = 40;
const ROW = 15;
/** Distortion below this is not drawn. */
const LEAST = 1e-5;

const thin = { stroke: "currentColor", "stroke-width": 0.5, "stroke-opacity": 0.2 };

interface Group {
  readonly curves: readonly PowerCurve[];
  readonly unit: "W" | "V" | "A";
}

const levelOf = (unit: Group["unit"], { output, output_watts }: PowerPoint): number =>
  unit === "W" ? (output_watts ?? 0) : output;

/** Curves of one path and mode, in one panel. */
function groupsOf(curves: readonly PowerCurve[]): Group[] {
  const keys = [...new Set(curves.map(({ path, mode }) => `${path}\n${mode}`))];
  return keys.map((key) => {
    const own = curves.filter(({ path, mode }) => `${path}\n${mode}` === key);
    return { curves: own, unit: own.every(hasPower) ? "W" : outputUnit(own[0]!) };
  });
}

const drawnPoints = ({ points }: PowerCurve, unit: Group["unit"]): PowerPoint[] =>
  points.filter((point) => levelOf(unit, point) > 0 && point.distortion > LEAST);

/** From 1, 2 or 5 below the least to 1, 2 or 5 above the greatest. */
function roundAxis(values: readonly number[]): GraphAxis {
  const [least, greatest] = [Math.min(...values), Math.max(...values)];
  const from = Math.floor(Math.log10(least));
  const marks = Array.from({ length: 60 }, (_, k) => [1, 2, 5][k % 3]! * 10 ** (from + Math.floor(k / 3)));
  const low = marks.findLast((mark) => mark <= least * (1 + 1e-9)) ?? least;
  const high = marks.find((mark) => mark >= greatest * (1 - 1e-9) && mark > low) ?? greatest;
  return logarithmic(low, high);
}

const SIGNS: Readonly<Record<string, string>> = {
  "10 % distortion": "M-4,-4l8,8m0,-8l-8,8",
  "1 dB less gain": "M-5,0l5,-5l5,5l-5,5z",
};

function panel({ curves, unit }: Group, top: number): { readonly markup: Markup; readonly bottom: number } {
  const all = curves.flatMap((curve) => drawnPoints(curve, unit));
  const name = `${curves[0]!.path} in ${curves[0]!.mode}: distortion at ${hertz(curves[0]!.hertz)}`;
  if (all.length === 0) return { markup: text(LEFT, top + 20, `${name}: none`), bottom: top + 40 };
  const x = roundAxis(all.map((point) => levelOf(unit, point)));
  const y = roundAxis(all.map(({ distortion }) => distortion));
  const px = (point: PowerPoint) => LEFT + ACROSS * x.at(levelOf(unit, point));
  const py = (share: number) => top + HEAD + HEIGHT * (1 - y.at(share));
  const foot = top + HEAD + HEIGHT;
  const path = line<PowerPoint>()
    .digits(2)
    .x(px)
    .y(({ distortion }) => py(distortion));
  const markup = together(
    text(LEFT, top + 16, name),
    ...y.ticks.map((tick) =>
      together(
        element("line", { x1: LEFT, x2: LEFT + ACROSS, y1: py(tick), y2: py(tick), ...thin }),
        text(LEFT - 7, py(tick) + 4, `${Number((100 * tick).toPrecision(3))}\u2009%`, {
          "text-anchor": "end",
        }),
      ),
    ),
    ...x.ticks.map((tick) => {
      const at = LEFT + ACROSS * x.at(tick);
      return together(
        element("line", { x1: at, x2: at, y1: top + HEAD, y2: foot, ...thin }),
        text(at, foot + 16, tickText(tick, unit), { "text-anchor": "middle" }),
      );
    }),
    text(LEFT + ACROSS / 2, foot + 33, unit === "W" ? "power in the load" : "output, rms", {
      "text-anchor": "middle",
      "font-style": "italic",
    }),
    ...curves.map((curve, k) =>
      together(
        element("path", { d: path(drawnPoints(curve, unit)) ?? "", ...strokeOf(k) }),
        ...curve.limits.map((limit) =>
          element("path", {
            d: SIGNS[limit.what] ?? "",
            transform: `translate(${px(limit).toFixed(2)},${py(limit.distortion).toFixed(2)})`,
            fill: "none",
            stroke: ACCENT,
            "stroke-width": 1.6,
          }),
        ),
      ),
    ),
    ...curves.map((curve, k) => legend(curve, k, foot + 52 + k * ROW)),
  );
  return { markup, bottom: foot + 56 + curves.length * ROW };
}

const tickText = (tick: number, unit: Group["unit"]): string =>
  withUnit(tick, unit, 1).replace("\u00a0", "\u2009");

function legend(curve: PowerCurve, index: number, y: number): Markup {
  const said = curve.limits.map(
    (limit) => `${limit.what === "10 % distortion" ? "×" : "◇"} ${levelText(curve, limit)}`,
  );
  const words = [curve.variant ?? curveName(curve), said.join(", ")].filter((text) => text !== "").join(": ");
  return together(
    element("line", { x1: LEFT, x2: LEFT + 34, y1: y - 4, y2: y - 4, ...strokeOf(index) }),
    text(LEFT + 42, y, words, { fill: colourOf(index) }),
  );
}

/** A panel a path and mode, a curve a variant. */
export function powerSvg(
  circuit: Circuit,
  curves: readonly PowerCurve[],
  phrases: readonly string[],
): string {
  const signs = "× distortion of 10 %, ◇ gain fallen by 1 dB";
  const top = head(circuit.title, ["Output power and distortion", ...phrases, signs], LEFT);
  let { bottom } = top;
  const panels = groupsOf(curves).map((group) => {
    const drawn = panel(group, bottom);
    bottom = drawn.bottom;
    return drawn.markup;
  });
  return drawing(
    { width: WIDTH, height: bottom + 8 },
    {
      title: `Output power and distortion: ${circuit.title}`,
      description: curves.map((curve) => `${curveName(curve)}. ${limitsText(curve)}`).join(" "),
    },
    top.markup,
    ...panels,
  );
}
