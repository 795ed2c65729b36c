/** Panels of levels (dB) over one logarithmic axis of frequencies, for the drawings about tape. */
import { scaleLinear, scaleLog } from "d3-scale";
import { area, line } from "d3-shape";
import { type Axis, type FrequencyAxis, frequencyAxis, gainAxis } from "./axes.ts";
import type { Panel } from "./bode-layout.ts";
import { colourOf, grid, strokeOf } from "./bode-panel.ts";
import { SIZE, text } from "./drawing.ts";
import { element, type Markup, together } from "./markup.ts";
import { hertzMark, SILENCE_DB } from "./numbers.ts";
import { spreadOut } from "./spread-out.ts";

export const WIDTH = 760;
export const LEFT = 48;
/** From the end of a curve to its name. */
const LEADER = 26;
/** A character of the serif of the system, on the average, at the size of labels. */
const CHARACTER = 5.8;
const HEAD = 30;
const FOOT = 44;
/** Rows of names at the ends of curves stand so far apart. */
const ROW = 13;
/** Characters of a name at most. */
const LONGEST = 26;

export interface Level {
  readonly hertz: number;
  /** dB on the panel's scale. */
  readonly gain: number;
}

export interface LevelCurve {
  readonly label: string;
  /** Number of its stroke, as in the Bode plot; a target is thin and plain. */
  readonly stroke: number | "target";
  readonly points: readonly Level[];
}

/** One edge of a field: from `least` to `greatest` dB at a frequency. */
export interface FieldEdge {
  readonly hertz: number;
  readonly least: number;
  readonly greatest: number;
}

export interface Field {
  /** Number of the stroke whose colour it is a shade of. */
  readonly stroke: number;
  readonly edges: readonly FieldEdge[];
}

export interface LevelPanel {
  readonly name: string;
  readonly unit: string;
  readonly height: number;
  readonly curves: readonly LevelCurve[];
  readonly fields: readonly Field[];
  /** Points that lie outside their field: ringed. */
  readonly rings: readonly (Level & { readonly stroke: number })[];
  /** Levels outside these, dB, do not widen the panel; curves may leave it. */
  readonly reach?: readonly [least: number, greatest: number];
  /** Its axis, if not in round decibels, and what stands beside a tick of it. */
  readonly axis?: Axis;
  readonly text?: (tick: number) => string;
}

interface Scales {
  readonly across: number;
  readonly x: (hertz: number) => number;
  readonly frequencies: FrequencyAxis;
}

const short = (label: string): string => {
  const characters = [...label];
  return characters.length <= LONGEST ? label : `${characters.slice(0, LONGEST - 1).join("")}…`;
};

function scalesOf(panels: readonly LevelPanel[]): Scales {
  const curves = panels.flatMap((panel) => panel.curves);
  const longest = Math.max(4, ...curves.map(({ label }) => short(label).length));
  const across = WIDTH - LEFT - LEADER - 10 - CHARACTER * longest;
  const frequencies = frequencyAxis(curves, (decades) => across / decades / 30);
  const x = scaleLog([frequencies.low, frequencies.high], [0, across]);
  return { across, frequencies, x: (hertz) => x(hertz) };
}

const TARGET = {
  stroke: "currentColor",
  "stroke-width": 0.8,
  "stroke-linejoin": "round",
  fill: "none",
} as const;

const styleOf = (stroke: LevelCurve["stroke"]) => (stroke === "target" ? TARGET : strokeOf(stroke));
const inkOf = (stroke: LevelCurve["stroke"]) => (stroke === "target" ? "currentColor" : colourOf(stroke));

/** Fields first, then curves, cut off at the edges of the panel (by the window that a nested `svg` is). */
function contents({ curves, fields, rings }: LevelPanel, panel: Panel, { across, x }: Scales): Markup {
  const band = area<FieldEdge>()
    .digits(2)
    .x(({ hertz }) => x(hertz))
    .y0(({ least }) => panel.y(least))
    .y1(({ greatest }) => panel.y(greatest));
  const path = line<Level>()
    .digits(2)
    .x(({ hertz }) => x(hertz))
    .y(({ gain }) => panel.y(gain));
  const window = {
    x: LEFT - 3,
    y: panel.top - 1,
    width: across + 6,
    height: panel.height + 2,
    overflow: "hidden",
  };
  const drawn = together(
    ...fields.map(({ edges, stroke }) =>
      element("path", { d: band(edges) ?? "", fill: colourOf(stroke), "fill-opacity": 0.1, stroke: "none" }),
    ),
    ...curves.map(({ points, stroke }) => element("path", { d: path(points) ?? "", ...styleOf(stroke) })),
    ...rings.map(({ hertz, gain, stroke }) =>
      element("circle", {
        cx: x(hertz),
        cy: panel.y(gain),
        r: 3.5,
        fill: "none",
        stroke: colourOf(stroke),
        "stroke-width": 1,
      }),
    ),
  );
  return element("svg", window, element("g", { transform: "translate(3 1)" }, drawn));
}

/** The names at the right ends of the curves, with their strokes. */
function names({ curves }: LevelPanel, panel: Panel, { across }: Scales): Markup {
  const shown = curves.flatMap((curve) => {
    const last = curve.points.at(-1);
    return last === undefined
      ? []
      : [{ ...curve, end: Math.min(panel.height, Math.max(0, panel.y(last.gain))) }];
  });
  const places = spreadOut(
    shown.map(({ end }) => end),
    ROW,
    4,
    panel.height - 6,
  );
  const right = LEFT + across;
  return together(
    ...shown.map(({ label, stroke, end }, i) => {
      const y = panel.top + places[i]!;
      const thread = `M${right},${(panel.top + end).toFixed(2)}L${right + 6},${y.toFixed(2)}`;
      return together(
        element("path", { d: thread, fill: "none", stroke: inkOf(stroke), "stroke-width": 0.8 }),
        element("path", { d: `M${right + 6},${y.toFixed(2)}H${right + LEADER - 4}`, ...styleOf(stroke) }),
        element(
          "text",
          { x: right + LEADER, y: y + 4, "font-size": SIZE },
          element("title", {}, label),
          short(label),
        ),
      );
    }),
  );
}

function panelAt(level: LevelPanel, top: number): Panel {
  const { reach: [least, greatest] = [SILENCE_DB, -SILENCE_DB], curves, fields } = level;
  const edges = fields.flatMap((field) =>
    field.edges.flatMap((edge) => [
      { hertz: edge.hertz, gain: edge.least },
      { hertz: edge.hertz, gain: edge.greatest },
    ]),
  );
  const all = [...curves.flatMap(({ points }) => points), ...edges];
  const axis =
    level.axis ?? gainAxis([{ points: all.filter(({ gain }) => gain >= least && gain <= greatest) }], 8);
  const scale = scaleLinear([axis.high, axis.low], [0, level.height]);
  return {
    name: level.name,
    unit: level.unit,
    top,
    height: level.height,
    axis,
    y: (value) => scale(value),
    ...(level.text !== undefined && { text: level.text }),
  };
}

/** The panels one below the other under `top`; and where they end, units from the top of the drawing. */
export function levelPanels(
  levels: readonly LevelPanel[],
  top: number,
): { readonly markup: Markup; readonly bottom: number } {
  const scales = scalesOf(levels);
  let y = top;
  const panels = levels.map((level) => {
    const panel = panelAt(level, y + HEAD);
    y += HEAD + level.height;
    return panel;
  });
  const centred = { "text-anchor": "middle" };
  const { frequencies, x, across } = scales;
  const foot = together(
    ...frequencies.labels.map((hertz) => text(LEFT + x(hertz), y + 16, hertzMark(hertz), centred)),
    text(LEFT + across / 2, y + 34, "Frequency, Hz", { ...centred, "font-style": "italic" }),
  );
  const drawn = levels.map((level, i) => {
    const panel = panels[i]!;
    return together(grid(panel, scales), contents(level, panel, scales), names(level, panel, scales));
  });
  return { markup: together(...drawn, foot), bottom: y + FOOT };
}
