/** The Bode plot as an SVG drawing: gain above, phase below, frequency on a logarithmic axis. */
import type { PathResponse } from "../bench/results.ts";
import { LABEL_SIZE, type Layout, LEFT, layoutOf, WIDTH } from "./bode-layout.ts";
import { halfPowerMarks } from "./bode-marks.ts";
import { curvesIn, grid, names } from "./bode-panel.ts";
import { type Curve, curvesOf, silent } from "./curves.ts";
import { head, INK, PAPER, SERIF } from "./drawing.ts";
import { pathLabels } from "./labels.ts";
import { element, type Markup, together } from "./markup.ts";
import { hertzMark } from "./numbers.ts";
import { summary } from "./response-table.ts";

export interface PlotTitle {
  readonly title: string;
  /** Short phrases under the title: modes, battery, ambient temperature. */
  readonly conditions: readonly string[];
}

export interface PlotStyle {
  /** Inside a page that has the title already: no title, no paper, the colours of the page. */
  readonly inline?: boolean;
}

/** Preferred frequencies under the lower panel. */
function foot({ phase, x, frequencies, across }: Layout): Markup {
  const y = phase.top + phase.height + 16;
  const label = (left: number, at: number, text: string, style?: string) =>
    element(
      "text",
      { x: left, y: at, "text-anchor": "middle", "font-size": LABEL_SIZE, "font-style": style },
      text,
    );
  return together(
    ...frequencies.labels.map((hertz) => label(LEFT + x(hertz), y, hertzMark(hertz))),
    label(LEFT + across / 2, y + 18, "Frequency, Hz", "italic"),
  );
}

/** Paths without any output have no curve; they are named below. */
function silence(curves: readonly Curve[], y: number): Markup | undefined {
  const labels = curves.filter(silent).map(({ label }) => label);
  if (labels.length === 0) return undefined;
  return element("text", { x: LEFT, y, "font-size": LABEL_SIZE }, `No output: ${labels.join(", ")}`);
}

function description(responses: readonly PathResponse[]): string {
  const labels = pathLabels(responses);
  return responses.map((response, i) => `${labels[i]}: ${summary(response)}.`).join(" ");
}

/**
 * Gain and phase of the responses over one another, as an SVG document. Names stand at the ends of the
 * curves; dashes tell them apart besides colour; rings mark the −3 dB points re 1 kHz.
 */
export function bodeSvg(responses: readonly PathResponse[], title: PlotTitle, style: PlotStyle = {}): string {
  const { inline = false } = style;
  const { curves, reference } = curvesOf(responses);
  const { markup, bottom } = inline
    ? { markup: undefined, bottom: 0 }
    : head(title.title, title.conditions, LEFT);
  const layout = layoutOf(curves, reference, bottom);
  const box = { width: WIDTH, height: layout.height };
  const content = together(
    element("title", {}, `Gain and phase: ${title.title}`),
    element("desc", {}, description(responses)),
    inline ? undefined : element("rect", { ...box, fill: PAPER }),
    element(
      "g",
      { fill: "currentColor" },
      markup,
      grid(layout.gain, layout),
      grid(layout.phase, layout),
      foot(layout),
      silence(curves, layout.height - 10),
    ),
    curvesIn(layout.gain, layout, curves),
    curvesIn(layout.phase, layout, curves),
    element(
      "g",
      { fill: "currentColor" },
      names(layout.gain, layout, curves),
      names(layout.phase, layout, curves),
      halfPowerMarks(layout, curves),
    ),
  );
  const root = {
    xmlns: "http://www.w3.org/2000/svg",
    viewBox: `0 0 ${WIDTH} ${Math.ceil(layout.height)}`,
    ...box,
    role: "img",
    "font-family": SERIF,
    color: inline ? undefined : INK,
  };
  return `${element("svg", root, content).markup}\n`;
}
