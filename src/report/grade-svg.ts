/** Graded transistors as a drawing: hfe across, leakage up, pairs joined. */
import { scaleLinear, scaleLog } from "d3-scale";
import type { Grade, Grades } from "../bench/grade.ts";
import { drawing, head, PAPER, text } from "./drawing.ts";
import { element, type Markup, together } from "./markup.ts";
import { amps, decimal } from "./numbers.ts";
import { quantityText } from "./quantities.ts";

const WIDTH = 760;
const LEFT = 70;
const ACROSS = 650;
const TOP = 78;
const TALL = 360;
/** Limits of the trade, A. */
const LIMITS = [200e-6, 300e-6, 500e-6] as const;
/** Leakage below this is drawn as this, A. */
const LEAST = 1e-7;

interface Scales {
  readonly x: (hfe: number) => number;
  /** Where a sample stands across. */
  readonly of: (one: Grade) => number;
  readonly y: (amps: number) => number;
  readonly across: readonly number[];
  readonly up: readonly number[];
}

const leakage = ({ at_25 }: Grade): number => Math.max(LEAST, at_25.iceo_amps);

/** hfe as it is drawn: counted as the sheet does where the spread of a sheet is drawn with it. */
function gainOf(results: readonly Grade[]): (one: Grade) => number {
  const judged = commonSpread(results) !== undefined;
  return ({ verdict, at_25 }) => (judged ? verdict.sheet_hfe : at_25.hfe);
}

function gainName(results: readonly Grade[]): string {
  const [first] = results;
  if (first === undefined || commonSpread(results) === undefined) return "hfe freed of leakage, at 25 °C";
  return `hfe freed of leakage, counted as the sheet of ${first.like} does: at ${quantityText(first.verdict.sheet_amps, "ampere")}, 25 °C`;
}

/** The spread that all samples are judged by, if they are of one type that has one. */
function commonSpread(results: readonly Grade[]) {
  const types = new Set(results.map(({ like }) => like));
  return types.size === 1 ? results[0]?.verdict.spread : undefined;
}

function scales(results: readonly Grade[]): Scales {
  const spread = commonSpread(results);
  const gains = results.map(gainOf(results));
  const greatest = Math.max(...gains, spread?.greatest ?? 0) * 1.08;
  const currents = results.map(leakage);
  const small = results.some(({ material }) => material === "germanium");
  const low = 10 ** Math.floor(Math.log10(Math.min(...currents) * 0.8));
  const high = 10 ** Math.ceil(Math.log10(Math.max(...currents, small ? 600e-6 : 0) * 1.2));
  const gain = gainOf(results);
  const linear = scaleLinear([0, greatest], [LEFT, LEFT + ACROSS]);
  const log = scaleLog([low, high], [TOP + TALL, TOP]);
  const decades = Math.round(Math.log10(high / low));
  return {
    x: (hfe) => linear(hfe),
    of: (one) => linear(gain(one)),
    y: (current) => log(current),
    across: linear.ticks(8),
    up: Array.from({ length: decades + 1 }, (_, k) => Number((low * 10 ** k).toPrecision(3))),
  };
}

const line = (x1: number, y1: number, x2: number, y2: number, more: Record<string, string | number>) =>
  element("line", { x1, y1, x2, y2, stroke: "currentColor", ...more });

function grid(results: readonly Grade[], { x, y, across, up }: Scales): Markup {
  const thin = { "stroke-width": 0.5, "stroke-opacity": 0.25 };
  return together(
    ...across.flatMap((hfe) => [
      line(x(hfe), TOP, x(hfe), TOP + TALL, thin),
      text(x(hfe), TOP + TALL + 16, decimal(hfe, 0), { "text-anchor": "middle" }),
    ]),
    ...up.flatMap((current) => [
      line(LEFT, y(current), LEFT + ACROSS, y(current), thin),
      text(LEFT - 7, y(current) + 4, quantityText(current, "ampere"), { "text-anchor": "end" }),
    ]),
    text(LEFT + ACROSS / 2, TOP + TALL + 36, gainName(results), {
      "text-anchor": "middle",
      "font-style": "italic",
    }),
    text(LEFT, TOP - 9, "I_CEO, at 25 °C", { "font-style": "italic" }),
  );
}

/** The limits of the trade, and the spread of the type as a band. */
function limits(results: readonly Grade[], { x, y }: Scales): Markup {
  const spread = commonSpread(results);
  const germanium = results.some(({ material }) => material === "germanium");
  return together(
    ...(spread === undefined
      ? []
      : [
          element("rect", {
            x: x(spread.least),
            y: TOP,
            width: x(spread.greatest) - x(spread.least),
            height: TALL,
            fill: "#0072B2",
            "fill-opacity": 0.08,
          }),
          text(x(spread.least) + 4, TOP + TALL - 6, `spread of ${results[0]?.like}`),
        ]),
    ...(germanium
      ? LIMITS.flatMap((current, k) => [
          line(LEFT, y(current), LEFT + ACROSS, y(current), {
            "stroke-dasharray": ["1.5 3.5", "5 3", "10 3"][k]!,
            "stroke-opacity": 0.7,
          }),
          text(LEFT + 4, y(current) - 3, ["often met", "suspect above", "bad above"][k]!),
        ])
      : []),
  );
}

const COLOUR = { good: "#009E73", high: "#D55E00", condemned: "currentColor", none: "#0072B2" } as const;

/** A dot a sound sample, a ring one of high leakage, a cross a condemned one. */
function mark(one: Grade, { of, y }: Scales): Markup {
  const [cx, cy] = [of(one), y(leakage(one))];
  const verdict = one.verdict.leakage ?? "none";
  const stroke = COLOUR[verdict];
  if (verdict === "condemned") {
    return together(
      line(cx - 4, cy - 4, cx + 4, cy + 4, { "stroke-width": 1.6 }),
      line(cx - 4, cy + 4, cx + 4, cy - 4, { "stroke-width": 1.6 }),
    );
  }
  const fill = verdict === "high" ? PAPER : stroke;
  return element("circle", { cx, cy, r: 4, fill, stroke, "stroke-width": 1.6 });
}

function pairs(results: readonly Grade[], { of, y }: Scales): Markup {
  const joined = results.flatMap((one, k) => {
    const other = results.findIndex(({ sample }) => sample === one.pair?.with);
    if (other <= k) return [];
    const [a, b] = [one, results[other]!];
    return [
      line(of(a), y(leakage(a)), of(b), y(leakage(b)), {
        "stroke-width": 1.2,
        "stroke-opacity": 0.6,
      }),
    ];
  });
  return together(...joined);
}

const described = (one: Grade): string =>
  `${one.sample}: hfe ${decimal(one.at_25.hfe, 1)}, I_CEO ${amps(one.at_25.iceo_amps)}, ` +
  `leakage ${one.verdict.leakage ?? "not judged"}${one.pair === undefined ? "" : `, pair with ${one.pair.with}`}.`;

/**
 * hfe against leakage of every sample, at 25 °C, as an SVG document; pairs are joined by a line. `conditions`
 * are short phrases under the title.
 */
export function gradeSvg({ results }: Grades, title: string, conditions: readonly string[]): string {
  const scale = scales(results);
  const height = TOP + TALL + 70;
  return drawing(
    { width: WIDTH, height },
    { title, description: results.map(described).join(" ") },
    head(title, conditions, LEFT).markup,
    limits(results, scale),
    grid(results, scale),
    pairs(results, scale),
    ...results.map((one) => mark(one, scale)),
    ...results.map((one) => text(scale.of(one) + 7, scale.y(leakage(one)) - 5, one.sample)),
    text(LEFT, height - 12, "● good\u2003○ high\u2003× condemned\u2003lines join best-matched pairs"),
  );
}
