/** Natural frequencies as a map: how fast they swing against how fast they die or grow, both logarithmic. */
import { type ScaleLogarithmic, scaleLog } from "d3-scale";
import type { NaturalFrequency, OscillationChart } from "../bench/oscillation/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { ACCENT, drawing, head, text } from "./drawing.ts";
import { element, type Markup, together } from "./markup.ts";
import { withUnit } from "./numbers.ts";
import { frequencyText, growingText, partsText, rateText } from "./oscillation-words.ts";

const WIDTH = 760;
const LEFT = 60;
const SIDE = 300;
const GAP = 24;
const HEIGHT = 230;
const TOP = 30;
/** Units kept free beside the middle line, where nothing grows and nothing dies. */
const STRIP = 70;

const rate = ({ growth_per_second: growth }: NaturalFrequency) => Math.abs(growth);

interface Map2 {
  readonly x: (natural: NaturalFrequency) => number;
  readonly y: (natural: NaturalFrequency) => number;
  readonly rates: ScaleLogarithmic<number, number>;
  readonly frequencies: ScaleLogarithmic<number, number>;
}

const decade = (value: number, up: boolean) => 10 ** (up ? Math.ceil : Math.floor)(Math.log10(value));

function range(values: readonly number[], fallback: readonly [number, number]): [number, number] {
  const positive = values.filter((value) => value > 0);
  if (positive.length === 0) return [...fallback];
  const [low, high] = [decade(Math.min(...positive), false), decade(Math.max(...positive), true)];
  return low === high ? [low / 10, high] : [low, high];
}

const MIDDLE = LEFT + SIDE + GAP;

const leftOf = (rates: Map2["rates"], decay: number): number => MIDDLE - GAP - rates(decay);
const rightOf = (rates: Map2["rates"], growth: number): number =>
  MIDDLE + GAP + (rates(growth) * STRIP * 4) / SIDE;

/** Dying ones left of the middle, slow near it; growing ones right of it. Those that do not swing lie on the floor. */
function mapOf(natural: readonly NaturalFrequency[]): Map2 {
  const rates = scaleLog(range(natural.map(rate), [1, 1e6]), [0, SIDE]);
  const frequencies = scaleLog(
    range(
      natural.map(({ hertz }) => hertz),
      [1, 1e6],
    ),
    [HEIGHT, 0],
  );
  return {
    rates,
    frequencies,
    x: (each) => {
      const growth = each.growth_per_second;
      if (growth === 0) return MIDDLE;
      return growth > 0 ? rightOf(rates, growth) : leftOf(rates, -growth);
    },
    y: ({ hertz }) => (hertz > 0 ? frequencies(hertz) : HEIGHT + GAP),
  };
}

const line = (x1: number, y1: number, x2: number, y2: number, opacity: number): Markup =>
  element("line", { x1, y1, x2, y2, stroke: "currentColor", "stroke-width": 0.6, "stroke-opacity": opacity });

const whole = (tick: number) => Math.abs(Math.log10(tick) - Math.round(Math.log10(tick))) < 1e-9;

/** e-fold times under one side of the map, not closer than they can be read. */
function times(rates: Map2["rates"], at: (growth: number) => number, y: number, most: number): Markup {
  const decades = rates.ticks().filter(whole);
  const each = Math.ceil(decades.length / most);
  return together(
    ...decades
      .filter((_, k) => k % each === 0)
      .map((growth) => text(at(growth), y, withUnit(1 / growth, "s", 1), { "text-anchor": "middle" })),
  );
}

function grid({ rates, frequencies }: Map2, top: number, grown: boolean): Markup {
  const right = MIDDLE + GAP + 4 * STRIP;
  const floor = top + HEIGHT + GAP;
  const across = frequencies.ticks().filter(whole);
  return together(
    line(MIDDLE, top, MIDDLE, floor, 0.7),
    line(LEFT, floor, right, floor, 0.35),
    ...across.flatMap((f) => [
      line(LEFT, top + frequencies(f), right, top + frequencies(f), 0.15),
      text(LEFT - 6, top + frequencies(f) + 4, withUnit(f, "Hz", 1), { "text-anchor": "end" }),
    ]),
    text(LEFT - 6, floor + 4, "no swing", { "text-anchor": "end" }),
    times(rates, (growth) => leftOf(rates, growth), floor + 16, 6),
    grown ? times(rates, (growth) => rightOf(rates, growth), floor + 16, 5) : undefined,
    text(LEFT, floor + 32, "← dies e-fold in", { "font-style": "italic" }),
    text(right, floor + 32, "grows e-fold in →", { "text-anchor": "end", "font-style": "italic" }),
  );
}

interface Placed {
  readonly each: NaturalFrequency;
  readonly cx: number;
  readonly cy: number;
}

/** Room that a name takes, units. */
const NAME = { width: 150, height: 12 };

/** Those whose names do not run into one another; growing ones and those of high Q come first. */
function named(all: readonly Placed[]): ReadonlySet<Placed> {
  const weight = ({ each }: Placed) => (each.growth_per_second > 0 ? 1e9 : (each.q ?? 0));
  const chosen: Placed[] = [];
  for (const place of [...all].sort((a, b) => weight(b) - weight(a))) {
    const { each, cx, cy } = place;
    const worth = each.growth_per_second > 0 || (each.hertz > 0 && (each.q ?? 0) > 0.9);
    const free = chosen.every(
      (other) => Math.abs(other.cx - cx) > NAME.width || Math.abs(other.cy - cy) > NAME.height,
    );
    if (worth && free) chosen.push(place);
  }
  return new Set(chosen);
}

/** A dot a mode, a ring where it grows, named by its strongest parts. */
function marks({ x, y }: Map2, natural: readonly NaturalFrequency[], top: number): Markup {
  const all = natural.map((each): Placed => ({ each, cx: x(each), cy: top + y(each) }));
  const names = named(all);
  return together(
    ...all.map((place) => {
      const { each, cx, cy } = place;
      const growing = each.growth_per_second > 0;
      const words = `${frequencyText(each)} ${partsText(each, 3)}`;
      return together(
        element("circle", {
          cx,
          cy,
          r: growing ? 5 : 3,
          fill: growing ? "none" : "#0072B2",
          stroke: growing ? ACCENT : "none",
          "stroke-width": growing ? 2 : undefined,
        }),
        names.has(place) ? text(cx + 8, cy - 5, words, growing ? { fill: ACCENT } : {}) : undefined,
      );
    }),
  );
}

const description = (charts: readonly OscillationChart[]): string =>
  charts
    .flatMap(({ mode, growing, natural }) => [
      growing.length === 0 ? `${mode}: nothing grows.` : `${mode}: ${growing.map(growingText).join(" ")}`,
      ...natural.slice(0, 8).map((each) => `${frequencyText(each)} ${rateText(each)}.`),
    ])
    .join(" ");

/** A map of each mode's natural frequencies, as an SVG document. */
export function oscillationSvg(
  circuit: Circuit,
  charts: readonly OscillationChart[],
  conditions: readonly string[],
): string {
  const { markup, bottom } = head(circuit.title, ["Natural frequencies", ...conditions], LEFT);
  const panel = HEIGHT + TOP + GAP + 48;
  return drawing(
    { width: WIDTH, height: bottom + charts.length * panel + 10 },
    { title: `Natural frequencies: ${circuit.title}`, description: description(charts) },
    markup,
    ...charts.map(({ mode, natural }, k) => {
      const top = bottom + k * panel + TOP;
      const map = mapOf(natural);
      return together(
        text(LEFT, top - 10, mode, { "font-style": "italic", "font-size": 13 }),
        grid(
          map,
          top,
          natural.some(({ growth_per_second }) => growth_per_second > 0),
        ),
        marks(map, natural, top),
      );
    }),
  );
}
