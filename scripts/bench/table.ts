import { type Demand, type Findings, type Item, isMet, type Line } from "./results.ts";

const TITLES: Readonly<Record<Item, string>> = {
  loops: "One multiply-add in a tight loop",
  sweep: "(a) Sweep of the recorder, 400 frequencies",
  point: "(b) Operating point of the recorder",
  trials: "(c) Trials: tolerances, current gains and leakages",
  networks: "(d) Large networks",
  start: "(e) Start of the bundled command",
  page: "(f) One update of the page",
  time: "(g) Runs in time",
};

/** Three digits and a prefix: `2.37 µs`. */
export function time(seconds: number | undefined): string {
  if (seconds === undefined) return "";
  const units: readonly (readonly [number, string])[] = [
    [1, "s"],
    [1e-3, "ms"],
    [1e-6, "µs"],
    [1e-9, "ns"],
  ];
  const [size, unit] = units.find(([size]) => seconds >= 0.9995 * size) ?? units.at(-1)!;
  const value = seconds / size;
  return `${value >= 100 ? value.toFixed(0) : value.toPrecision(3)} ${unit}`;
}

const COLUMNS = ["", "per", "min", "median", "limit", "difference", "remarks"];

const cells = ({ what, per, min, median, limit, difference, note }: Line): string[] => [
  what,
  per,
  min === undefined ? "not measured" : time(min),
  time(median),
  time(limit),
  difference === undefined ? "" : difference.toExponential(0),
  note ?? "",
];

const verdict = (demand: Demand) =>
  ({ true: "met", false: "not met", undefined: "not measured here" })[`${isMet(demand)}`];

const figure = (value: number | undefined) =>
  value === undefined ? "" : value >= 100 ? value.toFixed(0) : value.toPrecision(3);

const demandCells = (demand: Demand): string[] => [
  demand.what,
  `${figure(demand.found)} ${demand.unit}`.trim(),
  `${demand.sense} ${demand.wanted} ${demand.unit}`.trim(),
  verdict(demand),
];

type Rows = readonly (readonly string[])[];

/** Columns for a terminal. */
function aligned(rows: Rows): string {
  const widths = rows[0]!.map((_, k) => Math.max(...rows.map((row) => row[k]!.length)));
  return rows
    .map((row) =>
      row
        .map((cell, k) => cell.padEnd(widths[k]!))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

const markdown = ([head = [], ...rows]: Rows): string =>
  [head, head.map(() => "---"), ...rows].map((row) => `| ${row.join(" | ")} |`).join("\n");

const wanted = ["", "found", "wanted", ""];

/** The findings item by item, for a terminal or for a document. */
export function tables({ lines, demands }: Findings, form: "terminal" | "document"): string {
  const drawn = form === "terminal" ? aligned : markdown;
  const heading = (title: string) => (form === "terminal" ? title : `### ${title}`);
  const items = [...new Set(lines.map(({ item }) => item))];
  return items
    .map((item) => {
      const asked = demands.filter((demand) => demand.item === item);
      return [
        heading(TITLES[item]),
        drawn([COLUMNS, ...lines.filter((line) => line.item === item).map(cells)]),
        ...(asked.length > 0 ? [drawn([wanted, ...asked.map(demandCells)])] : []),
      ].join("\n\n");
    })
    .join("\n\n");
}
