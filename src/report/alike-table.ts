/** Types like a given one, on a terminal and as comma-separated values. */
import type { AlikeType } from "../bench/alike.ts";
import { layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import { lines } from "./csv.ts";
import { decimal } from "./numbers.ts";
import { quantityText } from "./quantities.ts";
import type { TableOptions } from "./voltage-table.ts";

/** Lines of the table: the nearest are worth reading. */
const SHORT = 16;

const HEADINGS = ["type", "differs", "hfe", "V_BE", "leakage", "f_T", "V max", "I max", "P max", "mind"];

const cell = (value: number | undefined, unit: string): string =>
  value === undefined ? "" : quantityText(value, unit);

const row = (each: AlikeType): readonly string[] => [
  each.type,
  decimal(each.difference, 1),
  decimal(each.hfe, 0),
  cell(Number(each.vbe_volts.toFixed(3)), "volt"),
  cell(each.leakage_amps, "ampere"),
  cell(Number(each.ft_hertz.toPrecision(2)), "hertz"),
  cell(each.vce_volts, "volt"),
  cell(each.ic_amps, "ampere"),
  cell(each.ptot_watts, "watt"),
  each.cautions.join(", "),
];

/** Figures that go, the last first, where the terminal is narrow. */
const SPARED = [8, 7, 4, 6, 5, 3];

/** The nearest types, the one asked for first. */
export function alikeTable(alike: readonly AlikeType[], { width }: TableOptions): string {
  const [wanted] = alike;
  if (wanted === undefined) return "No type fits\n";
  const rows = [HEADINGS, ...alike.slice(0, SHORT).map(row)];
  const more = alike.length - SHORT;
  const notes = [
    `hfe, V_BE at ${quantityText(wanted.at_amps, "ampere")}; differs: 1 is a halved or doubled hfe, or its like.`,
    ...(more > 0 ? [`${more} more are less alike: --csv and --json have them all.`] : []),
  ];
  const laid = fitting(rows, width);
  return [...laid, "", ...wrap(notes.join(" "), width, 0), ""].join("\n");
}

function fitting(rows: readonly (readonly string[])[], width: number): readonly string[] {
  const dropped = new Set<number>();
  for (const next of [...SPARED, undefined]) {
    const kept = rows.map((cells) => cells.filter((_, i) => !dropped.has(i)));
    const laid = laidOut(kept);
    if (next === undefined || laid.every((line) => widthOf(line) <= width))
      return laid.map((line) => clipped(line, width));
    dropped.add(next);
  }
  return [];
}

function laidOut(rows: readonly (readonly string[])[]): readonly string[] {
  const columns = rows[0]?.map((_, i, all) => ({
    align: i === 0 || i === all.length - 1 ? ("left" as const) : ("right" as const),
  }));
  const [head = "", ...body] = layOut(rows, columns ?? []).map((line) => unbound(line).trimEnd());
  return [head, rule(Math.max(...body.map(widthOf), widthOf(head))), ...body];
}

const clipped = (line: string, width: number): string =>
  widthOf(line) <= width ? line : `${[...line].slice(0, width - 1).join("")}…`;

const KEYS = [
  "type",
  "device",
  "material",
  "difference",
  "at_amps",
  "hfe",
  "vbe_volts",
  "ft_hertz",
  "leakage_amps",
  "flicker_hertz",
  "vce_volts",
  "ic_amps",
  "ptot_watts",
  "case",
  "leads",
] as const;

/** A row a type, SI units. */
export const alikeCsv = (alike: readonly AlikeType[]): string =>
  lines([
    [...KEYS, "cautions"],
    ...alike.map((each) => [...KEYS.map((key) => each[key]), each.cautions.join("; ")]),
  ]);
