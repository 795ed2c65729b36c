/** The voltage chart and the summary of responses as tables of a page. */
import type { PathResponse } from "../bench/results.ts";
import { bandwidth } from "./bandwidth.ts";
import type { ChartRows } from "./chart-rows.ts";
import { pathLabels } from "./labels.ts";
import { element, type Markup, together } from "./markup.ts";
import { decibels, hertz, SILENCE_DB } from "./numbers.ts";
import { type Grid, type GridLine, motorGrid, netGrid, supplyGrid, transistorGrid } from "./voltage-grids.ts";

/** More modes than this do not fit beside one another on A4. */
const ABREAST = 2;
/** As wide as a figure, and as a decimal point. */
const FIGURE_SPACE = "\u2007";
const POINT_SPACE = "\u2008";

/** Behind the decimal point, filled up to `length` with blanks of the width of figures. */
function filled(text: string, length: number): string {
  const point = text.indexOf(".");
  const have = point < 0 ? 0 : text.length - point;
  if (have >= length) return text;
  return text + (have === 0 ? POINT_SPACE : FIGURE_SPACE) + FIGURE_SPACE.repeat(length - have - 1);
}

/** Cells of a grid, the decimal points of each column below one another. */
function aligned({ columns, lines }: Grid): readonly GridLine[] {
  const numbers = lines.filter(({ style }) => style !== "head");
  const groups = lines[0]?.groups.length ?? 0;
  const length = (group: number, column: number) =>
    Math.max(0, ...numbers.map((line) => fraction(line.groups[group]?.[column] ?? "")));
  const lengths = Array.from({ length: groups }, (_, g) => columns.map((_, c) => length(g, c)));
  return lines.map((line) => ({
    ...line,
    groups: line.groups.map((cells, g) =>
      columns.map(({ align }, c) =>
        align === "point" && cells[c] !== undefined ? filled(cells[c], lengths[g]![c]!) : (cells[c] ?? ""),
      ),
    ),
  }));
}

const fraction = (text: string): number => (text.includes(".") ? text.length - text.indexOf(".") : 0);

/** A line of a grid; the columns of each mode fill `span` columns of the table. */
function row({ label, style, groups, look }: GridLine, grid: Grid, span: number): Markup {
  const cells = groups.flatMap((group, g) =>
    Array.from({ length: span }, (_, c) => {
      const classes = [
        ...(c === 0 ? ["first"] : []),
        ...(grid.columns[c]?.align === "left" ? ["left"] : []),
        ...(look?.[g] ? ["look"] : []),
      ].join(" ");
      const name = style === "head" ? "th" : "td";
      return element(name, { class: classes || undefined }, group[c] ?? "");
    }),
  );
  return element("tr", { class: style }, element("th", { scope: "row" }, label), ...cells);
}

function table(rows: ChartRows, shown: readonly number[]): Markup {
  const thoroughness = rows.modes.length > 1 ? "lean" : "full";
  const grids = [
    transistorGrid(rows, shown, thoroughness),
    netGrid(rows, shown),
    supplyGrid(rows, shown),
    motorGrid(rows, shown),
  ].filter((grid) => grid.lines.length > 0);
  const span = Math.max(1, ...grids.map((grid) => grid.columns.length));
  const heads = shown.map((i) =>
    element("th", { scope: "colgroup", colspan: span, class: "first" }, rows.modes[i]),
  );
  return element(
    "table",
    {},
    element("caption", {}, "Volts against chassis"),
    element("thead", {}, element("tr", {}, element("td", {}), ...heads)),
    ...grids.map((grid) =>
      element("tbody", {}, together(...aligned(grid).map((line) => row(line, grid, span)))),
    ),
  );
}

/** The voltage chart, two modes side by side. */
export function voltageTables(rows: ChartRows): Markup {
  const starts = rows.modes.map((_, i) => i).filter((i) => i % ABREAST === 0);
  const modes = rows.modes.map((_, i) => i);
  return together(
    ...starts.map((start) =>
      element("div", { class: "wide" }, table(rows, modes.slice(start, start + ABREAST))),
    ),
  );
}

const SUMMARY = ["path", "from", "to", "at 1 kHz, dB", "greatest, dB", "at", "−3 dB below", "−3 dB above"];

/** What one reads off the responses: a row a path. */
export function summaryTable(responses: readonly PathResponse[]): Markup {
  const labels = pathLabels(responses);
  const shown = (f: number | undefined) => (f === undefined ? "–" : hertz(f));
  const rows = responses.map((response, i) => {
    const found = bandwidth(response);
    const heard = found.greatest_db > SILENCE_DB;
    const cells = [
      decibels(found.reference_db ?? SILENCE_DB),
      decibels(found.greatest_db),
      heard ? hertz(found.greatest_hertz) : "–",
      shown(found.low_hertz),
      shown(found.high_hertz),
    ];
    return element(
      "tr",
      {},
      element("th", { scope: "row" }, labels[i]),
      ...[response.from, response.to].map((text) => element("td", { class: "left" }, text)),
      ...cells.map((text) => element("td", {}, text)),
    );
  });
  return element(
    "div",
    { class: "wide" },
    element(
      "table",
      {},
      element("caption", {}, "Output over EMF, in V/V, of a current in A/V"),
      element(
        "thead",
        {},
        element(
          "tr",
          { class: "head" },
          ...SUMMARY.map((text, i) =>
            element("th", { scope: "col", class: i < 3 ? "left" : undefined }, text),
          ),
        ),
      ),
      element("tbody", {}, together(...rows)),
    ),
  );
}
