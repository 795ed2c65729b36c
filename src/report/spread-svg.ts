/** The spread as a drawing: a band a transistor pin, printed voltages as ticks. */
import { scaleLinear } from "d3-scale";
import type { SpreadChart } from "../bench/spread/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { ACCENT, drawing, head, text } from "./drawing.ts";
import { element, type Markup, together } from "./markup.ts";
import { decimal, plain } from "./numbers.ts";
import { causeText, type SpreadGroup, type SpreadRow, spreadGroups } from "./spread-rows.ts";

const WIDTH = 760;
const LEFT = 92;
const ACROSS = 340;
const ROW = 14;
const GAP = 6;
const BETWEEN = 34;

interface Placed {
  readonly group: SpreadGroup;
  readonly row: SpreadRow;
  readonly first: boolean;
  /** Centre of the row, units from the top of its panel. */
  readonly y: number;
}

function placed(groups: readonly SpreadGroup[]): readonly Placed[] {
  let y = 0;
  return groups.flatMap((group) => {
    y += GAP;
    return group.rows
      .filter(({ unit }) => unit === "V")
      .map((row, k) => {
        y += ROW;
        return { group, row, first: k === 0, y: y - ROW / 2 };
      });
  });
}

type Scale = (volts: number) => number;

/** A band from least to greatest, a stroke at the median, ticks at what is given. */
function band({ row, y }: Placed, x: Scale, top: number): Markup {
  const { least, typical, greatest, printed, reading } = row;
  const at = top + y;
  const upright = (volts: number, reach: number, more: Readonly<Record<string, string | number>>) =>
    element("line", { x1: x(volts), x2: x(volts), y1: at - reach, y2: at + reach, ...more });
  const colour = (inside: boolean) => (inside ? "currentColor" : ACCENT);
  return together(
    element("rect", {
      x: x(least),
      y: at - 3.5,
      width: Math.max(1, x(greatest) - x(least)),
      height: 7,
      fill: "#0072B2",
      "fill-opacity": 0.35,
    }),
    upright(typical, 3.5, { stroke: "#0072B2", "stroke-width": 1.6 }),
    printed && upright(printed.volts, 6, { stroke: colour(printed.inside), "stroke-width": 1.2 }),
    reading &&
      element("circle", { cx: x(reading.volts), cy: at, r: 3, fill: "none", stroke: colour(reading.inside) }),
  );
}

function words({ group, row, first, y }: Placed, top: number): Markup {
  const at = top + y + 4;
  const given = row.reading ?? row.printed;
  const outside = given?.inside === false;
  const numbers = `${plain(row.least)} … ${plain(row.typical)} … ${plain(row.greatest)}`;
  const causes = row.causes.slice(0, 2).map(causeText).join(", ");
  return together(
    first ? text(8, at, group.type === undefined ? group.name : `${group.name} ${group.type}`) : undefined,
    text(LEFT - 8, at, group.type === undefined ? row.label.slice(0, 12) : row.label, {
      "text-anchor": "end",
    }),
    text(LEFT + ACROSS + 10, at, numbers, outside ? { fill: ACCENT } : {}),
    text(
      LEFT + ACROSS + 150,
      at,
      outside ? `outside: ${plain(given.volts)}` : causes,
      outside ? { fill: ACCENT } : {},
    ),
  );
}

function panel(circuit: Circuit, chart: SpreadChart, top: number): { markup: Markup; bottom: number } {
  const groups = spreadGroups(circuit, chart);
  const transistors = groups.filter(({ type }) => type !== undefined);
  const rows = placed(transistors.length > 0 ? transistors : groups);
  const ends = rows.flatMap(({ row }) => [
    row.least,
    row.greatest,
    row.printed?.volts ?? 0,
    row.reading?.volts ?? 0,
  ]);
  const scale = scaleLinear([Math.min(0, ...ends), Math.max(0, ...ends)], [LEFT, LEFT + ACROSS]).nice();
  const x: Scale = (volts) => scale(volts);
  const height = (rows.at(-1)?.y ?? 0) + ROW;
  const inner = top + BETWEEN;
  const ticks = scale.ticks(8).map((tick) =>
    together(
      element("line", {
        x1: x(tick),
        x2: x(tick),
        y1: inner,
        y2: inner + height,
        stroke: "currentColor",
        "stroke-width": 0.5,
        "stroke-opacity": tick === 0 ? 0.45 : 0.18,
      }),
      text(x(tick), inner + height + 14, decimal(tick, Number.isInteger(tick) ? 0 : 1), {
        "text-anchor": "middle",
      }),
    ),
  );
  return {
    markup: together(
      text(8, top + BETWEEN - 8, chart.mode, { "font-style": "italic", "font-size": 13 }),
      ...ticks,
      text(LEFT + ACROSS + 10, top + BETWEEN - 8, "volts: least … typical … greatest", {
        "font-style": "italic",
      }),
      ...rows.map((each) => band(each, x, inner)),
      ...rows.map((each) => words(each, inner)),
    ),
    bottom: inner + height + 18,
  };
}

function description(circuit: Circuit, charts: readonly SpreadChart[]): string {
  return charts
    .flatMap((chart) =>
      spreadGroups(circuit, chart).flatMap(({ name, rows }) =>
        rows.map(
          ({ label, unit, least, greatest }) =>
            `${chart.mode} ${name} ${label}: ${plain(least)} to ${plain(greatest)} ${unit}.`,
        ),
      ),
    )
    .join(" ");
}

/** Bands of voltage of every mode below one another, as an SVG document. */
export function spreadSvg(
  circuit: Circuit,
  charts: readonly SpreadChart[],
  conditions: readonly string[],
): string {
  const trials = charts[0]?.trials ?? 0;
  const top = head(
    circuit.title,
    [`${trials} specimens, nineteen in twenty within the bands`, ...conditions],
    8,
  );
  let bottom = top.bottom;
  const panels = charts.map((chart) => {
    const drawn = panel(circuit, chart, bottom);
    bottom = drawn.bottom;
    return drawn.markup;
  });
  const key = text(
    8,
    bottom + 22,
    "Band: 2.5 % to 97.5 % of specimens, with the median. Long stroke: printed voltage. Ring: reading.",
    { "font-style": "italic" },
  );
  return drawing(
    { width: WIDTH, height: bottom + 34 },
    { title: `Spread: ${circuit.title}`, description: description(circuit, charts) },
    top.markup,
    ...panels,
    key,
  );
}
