/** Quiescent currents of push-pull pairs as a drawing: against temperature, hfe and V_BE. */
import { line } from "d3-shape";
import type { QuiescentCurrents, QuiescentPoint, StagesResult } from "../bench/stages/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { colourOf, strokeOf } from "./bode-panel.ts";
import { ACCENT, drawing, head, text } from "./drawing.ts";
import { across, type GraphAxis, type GraphPoint, runs, upright } from "./graph.ts";
import { element, type Markup, together } from "./markup.ts";
import { decimal } from "./numbers.ts";

const WIDTH = 760;
const LEFT = 52;
const PANEL = 200;
const BETWEEN = 36;
const HEIGHT = 170;
const HEAD = 42;
const FOOT = 44;

/** One small plot of a pair's two currents. */
interface Plot {
  readonly title: string;
  readonly points: readonly QuiescentPoint[];
  readonly scale: "linear" | "logarithmic";
  /** From what was changed to what the axis shows. */
  readonly shown: (at: number) => number;
  readonly mark: (value: number) => string;
}

const same = (at: number): number => at;

const plotsOf = ({ pair: [first], ...each }: QuiescentCurrents): readonly Plot[] => [
  {
    title: "ambient, °C",
    points: each.ambient_celsius,
    scale: "linear",
    shown: same,
    mark: (value) => decimal(value, 0),
  },
  {
    title: `hfe of ${first}, × that of its type`,
    points: each.hfe_share,
    scale: "logarithmic",
    shown: same,
    mark: (value) => String(value),
  },
  {
    title: `V_BE of ${first}, mV more`,
    points: each.vbe_shift_volts,
    scale: "linear",
    shown: (at) => at * 1e3,
    mark: (value) => decimal(value, 0),
  },
];

const thin = { stroke: "currentColor", "stroke-width": 0.5, "stroke-opacity": 0.18 };

function curveOf({ points, shown }: Plot, half: 0 | 1): readonly GraphPoint[] {
  return points.map(({ at, amps }) => ({ x: shown(at), y: amps === undefined ? null : amps[half] * 1e3 }));
}

interface Frame {
  readonly left: number;
  readonly top: number;
  readonly x: GraphAxis;
  readonly y: GraphAxis;
}

const px = ({ left, x }: Frame, value: number): number => left + PANEL * x.at(value);
const py = ({ top, y }: Frame, value: number): number => top + HEIGHT * (1 - y.at(value));

function axes(frame: Frame, { mark, title }: Plot): Markup {
  const { left, top, x, y } = frame;
  const level = y.ticks.map((tick) =>
    together(
      element("line", { x1: left, x2: left + PANEL, y1: py(frame, tick), y2: py(frame, tick), ...thin }),
      text(left - 6, py(frame, tick) + 4, String(Number(tick.toPrecision(3))), { "text-anchor": "end" }),
    ),
  );
  const down = x.ticks.map((tick) =>
    together(
      element("line", { x1: px(frame, tick), x2: px(frame, tick), y1: top, y2: top + HEIGHT, ...thin }),
      text(px(frame, tick), top + HEIGHT + 15, mark(tick), { "text-anchor": "middle" }),
    ),
  );
  const below = { "text-anchor": "middle", "font-style": "italic" } as const;
  return together(...level, ...down, text(left + PANEL / 2, top + HEIGHT + 32, title, below));
}

/** Crosses at the foot where there is no operating point. */
function crosses(frame: Frame, { points, shown }: Plot): Markup {
  const failed = points.filter(({ amps }) => amps === undefined);
  const foot = frame.top + HEIGHT - 4;
  return together(
    ...failed.map(({ at, failure }) =>
      element(
        "text",
        { x: px(frame, shown(at)), y: foot, fill: ACCENT, "text-anchor": "middle", "font-size": 12 },
        element("title", {}, failure),
        "×",
      ),
    ),
  );
}

function plot(each: Plot, left: number, top: number): Markup {
  const curves = ([0, 1] as const).map((half) => curveOf(each, half));
  const all = curves.flat();
  if (all.every(({ y }) => y === null)) return text(left, top + HEIGHT / 2, "no operating point");
  const frame: Frame = { left, top, x: across(curves[0]!, each.scale), y: upright(all, [], 6, false) };
  const path = line<{ x: number; y: number }>()
    .digits(2)
    .x((point) => px(frame, point.x))
    .y((point) => py(frame, point.y));
  const drawn = curves.flatMap((curve, half) =>
    runs(curve).flatMap((run) => [
      element("path", { d: path(run) ?? "", ...strokeOf(half) }),
      ...run.map((point) =>
        element("circle", { cx: px(frame, point.x), cy: py(frame, point.y), r: 2.2, fill: colourOf(half) }),
      ),
    ]),
  );
  return together(axes(frame, each), ...drawn, crosses(frame, each));
}

function row(mode: string, currents: QuiescentCurrents, top: number): Markup {
  const { pair } = currents;
  const plots = plotsOf(currents).map((each, i) => plot(each, LEFT + i * (PANEL + BETWEEN), top + HEAD));
  const key = pair.map((name, half) =>
    together(
      element("path", { d: `M${LEFT + 330 + half * 90},${top + 16}h24`, ...strokeOf(half) }),
      text(LEFT + 360 + half * 90, top + 20, name),
    ),
  );
  return together(
    text(LEFT, top + 20, `${mode}: quiescent current of ${pair.join(" and ")}, mA`, { "font-size": 13 }),
    ...key,
    ...plots,
  );
}

/** A row of three plots for each push-pull pair of each mode; crosses where there is no operating point. */
export function stagesSvg(
  circuit: Circuit,
  results: readonly StagesResult[],
  conditions: readonly string[],
): string {
  const top = head(circuit.title, conditions, 8);
  const pairs = results.flatMap(({ mode, push_pull }) => push_pull.map((currents) => ({ mode, currents })));
  const step = HEAD + HEIGHT + FOOT;
  const described = pairs.map(({ mode, currents }) => {
    const from = currents.ambient_celsius.map(({ at, amps, failure }) =>
      amps === undefined ? `${failure} at ${at} °C` : `${decimal(amps[0] * 1e3, 2)} mA at ${at} °C`,
    );
    return `${mode}, ${currents.pair[0]}: ${from.join(", ")}.`;
  });
  return drawing(
    { width: WIDTH, height: top.bottom + step * Math.max(1, pairs.length) + 4 },
    { title: `Quiescent currents: ${circuit.title}`, description: described.join(" ") },
    top.markup,
    ...pairs.map(({ mode, currents }, k) => row(mode, currents, top.bottom + k * step)),
  );
}
