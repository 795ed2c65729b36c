/** Tables of frequencies: groups of columns beside one another, as many as fit. */
import { type Column, layOut, rule, widthOf } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { hertzPlain } from "./numbers.ts";
import type { TableOptions } from "./voltage-table.ts";

/** Columns under one label; a row of cells for each frequency. */
export interface ColumnGroup {
  readonly label: string;
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

const COLUMN: Column = { align: "point", gap: 2 };

/** Laid-out columns under their label, all lines equally wide. */
export function underLabel(label: string, lines: readonly string[]): readonly string[] {
  const width = Math.max(widthOf(label), widthOf(lines[0] ?? ""));
  return [label, ...lines].map((line) => " ".repeat(width - widthOf(line)) + line);
}

function block({ label, heads, rows }: ColumnGroup): readonly string[] {
  const lines = layOut(
    [heads, ...rows],
    heads.map(() => COLUMN),
  );
  return underLabel(label, lines);
}

/** Frequencies (Hz) down, blocks across; a block is its label, its heads, and a line for each frequency. */
export function frequencyTable(
  frequencies: readonly number[],
  blocks: readonly (readonly string[])[],
  ink: Ink,
): readonly string[] {
  const first = layOut([[""], ["Hz"], ...frequencies.map((f) => [hertzPlain(f)])], [{ align: "point" }]);
  const lines = first.map((cell, r) => [cell, ...blocks.map((each) => each[r]!)].join("   ").trimEnd());
  const width = Math.max(...lines.map(widthOf));
  return [
    ink.strong(lines[0]!),
    ink.faint(lines[1]!),
    ink.faint(rule(width)),
    ...lines.slice(2),
    ink.faint(rule(width)),
  ];
}

/** Frequencies (Hz) down, groups across; where a line is too short the rest follows below. */
export function sideBySide(
  frequencies: readonly number[],
  groups: readonly ColumnGroup[],
  { width, color }: TableOptions,
): readonly string[] {
  const fits = (some: readonly (readonly string[])[]) =>
    frequencyTable(frequencies, some, inkFor(false)).every((line) => widthOf(line) <= width);
  const lines: string[] = [];
  let rest = groups.map(block);
  while (rest.length > 0) {
    let count = rest.length;
    while (count > 1 && !fits(rest.slice(0, count))) count--;
    lines.push(...frequencyTable(frequencies, rest.slice(0, count), inkFor(color)), "");
    rest = rest.slice(count);
  }
  return lines;
}
