/** Two paths against each other, drawn: both curves and their sum; below, the whole pass. */
import type { Comparison } from "../bench/compare.ts";
import { comparedLabels, comparisonWords, hasWholePass } from "./compare-table.ts";
import { drawing, head } from "./drawing.ts";
import { LEFT, type Level, type LevelPanel, levelPanels, WIDTH } from "./level-panels.ts";
import { hertz as hertzText } from "./numbers.ts";

const CURVES_HEIGHT = 280;
const PASS_HEIGHT = 150;

const points = (hertz: readonly number[], levels: readonly (number | null)[]): readonly Level[] =>
  hertz
    .flatMap((f, i) => (typeof levels[i] === "number" ? [{ hertz: f, gain: levels[i] }] : []))
    .sort((a, b) => a.hertz - b.hertz);

function panelsOf(comparison: Comparison): readonly LevelPanel[] {
  const { paths, hertz, sum_db, whole_pass_db, reference_hertz } = comparison;
  const labels = comparedLabels(comparison);
  const unit = `dB re ${hertzText(reference_hertz)}`;
  const plain = { fields: [], rings: [] };
  const curves = {
    name: "Gain",
    unit,
    height: CURVES_HEIGHT,
    ...plain,
    curves: [
      { label: labels[0], stroke: 0, points: points(hertz, paths[0].gain_db) },
      { label: labels[1], stroke: 1, points: points(hertz, paths[1].gain_db) },
      { label: "sum", stroke: 2, points: points(hertz, sum_db) },
    ],
  };
  if (!hasWholePass(comparison)) return [curves];
  const label = comparison.tape_loss_db === undefined ? "whole pass" : "whole pass, tape too";
  return [
    curves,
    {
      name: "Whole pass",
      unit,
      height: PASS_HEIGHT,
      ...plain,
      curves: [{ label, stroke: 3, points: points(hertz, whole_pass_db) }],
    },
  ];
}

/** The comparison as an SVG document; `closer` is the same at more frequencies, for the curves. */
export function comparisonSvg(
  comparison: Comparison,
  { title, conditions }: { readonly title: string; readonly conditions: readonly string[] },
  closer: Comparison = comparison,
): string {
  const labels = comparedLabels(comparison);
  const top = head(title, [`${labels[0]} against ${labels[1]}`, ...conditions], LEFT);
  const panels = levelPanels(panelsOf(closer), top.bottom);
  return drawing(
    { width: WIDTH, height: panels.bottom },
    {
      title: `${labels[0]} against ${labels[1]}: ${title}`,
      description: `${comparisonWords(comparison).join(". ")}.`,
    },
    top.markup,
    panels.markup,
  );
}
