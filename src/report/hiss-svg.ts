/** Density of the noise at the output against frequency, with the largest contributors. */
import type { PathHiss } from "../bench/hiss/results.ts";
import type { Axis } from "./axes.ts";
import { drawing, head } from "./drawing.ts";
import { densities, hissLabels, hissSummary, unitOf } from "./hiss-words.ts";
import { LEFT, type LevelPanel, levelPanels, WIDTH } from "./level-panels.ts";
import { quantityText } from "./quantities.ts";

const HEIGHT = 250;
/** Contributors drawn: with the whole, as many as there are strokes. */
const DRAWN = 4;
/** A contributor may lie so far below the least of the whole before it leaves the panel, in decades. */
const BELOW = 1;

const decibels = (value: number): number => 20 * Math.log10(value);

const points = (hertz: readonly number[], values: readonly number[]) =>
  hertz
    .map((f, i) => ({ hertz: f, gain: values[i]! > 0 ? decibels(values[i]!) : -400 }))
    .sort((a, b) => a.hertz - b.hertz);

/** Lines at 1, 2 and 5 of every decade, dB. */
function axisOf(whole: readonly number[], drawn: readonly (readonly number[])[]): Axis {
  const heard = (values: readonly number[]) => values.filter((value) => value > 0);
  const floor = Math.min(...heard(whole)) / 10 ** BELOW;
  const all = [...heard(whole), ...drawn.flatMap(heard).filter((value) => value >= floor)];
  const low = Math.floor(Math.log10(Math.min(...all)));
  const marks = Array.from({ length: 3 * 30 }, (_, k) => [1, 2, 5][k % 3]! * 10 ** (low + Math.floor(k / 3)));
  const least = marks.findLastIndex((mark) => mark <= Math.min(...all) * (1 + 1e-9));
  const greatest = marks.findIndex((mark) => mark >= Math.max(...all) * (1 - 1e-9));
  const ticks = marks.slice(least, Math.max(greatest, least + 1) + 1).map(decibels);
  return { low: ticks[0]!, high: ticks.at(-1)!, ticks };
}

function panelOf(result: PathHiss, label: string): LevelPanel {
  const whole = densities(result);
  const largest = result.contributors.slice(0, DRAWN);
  const unit = unitOf(result) === "V" ? "volt" : "ampere";
  return {
    name: `${label}: noise at the output`,
    unit: `per √Hz`,
    height: HEIGHT,
    axis: axisOf(whole, largest.map(densities)),
    text: (tick) => quantityText(10 ** (tick / 20), unit, 1).replace("\u00a0", "\u2009"),
    curves: [
      { label: "all together", stroke: 0, points: points(result.hertz, whole) },
      ...largest.map((each, i) => ({
        label: `${each.part} ${each.origin.replace(" (thermal)", "")}`,
        stroke: i + 1,
        points: points(result.hertz, densities(each)),
      })),
    ],
    fields: [],
    rings: [],
  };
}

/** A panel a path and mode that has noise: the whole, and the four largest contributors. An SVG document. */
export function hissSvg(
  results: readonly PathHiss[],
  { title, conditions }: { readonly title: string; readonly conditions: readonly string[] },
): string {
  const labels = hissLabels(results);
  const top = head(title, conditions, LEFT);
  const shown = results.flatMap((result, i) =>
    densities(result).some((value) => value > 0) ? [panelOf(result, labels[i]!)] : [],
  );
  const panels = levelPanels(shown, top.bottom);
  const description = results.map((result, i) => `${labels[i]}: ${hissSummary(result)}.`).join(" ");
  return drawing(
    { width: WIDTH, height: panels.bottom },
    { title: `Noise: ${title}`, description },
    top.markup,
    panels.markup,
  );
}
