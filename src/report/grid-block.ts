import { layOut, rule, widthOf } from "./columns.ts";
import type { Ink } from "./ink.ts";
import type { Grid, GridLine } from "./voltage-grids.ts";

const AFTER_LABEL = "  ";
const BETWEEN_MODES = "   ";

/** The lines of one mode's group of columns, in every grid. */
const groupLines = ({ columns, lines }: Grid, group: number): readonly string[] =>
  layOut(
    lines.map((line) => line.groups[group] ?? []),
    columns,
  );

/** A line, trailing blanks cut off before the ink is put on. */
function line({ style, label, look }: GridLine, width: number, groups: readonly string[], ink: Ink): string {
  const paint = style === "main" ? (text: string) => text : ink.faint;
  const last = groups.findLastIndex((group) => group.trim() !== "");
  const shown = groups
    .slice(0, last + 1)
    .map((group, i) => (look?.[i] ? ink.accent : paint)(i === last ? group.trimEnd() : group));
  if (shown.length === 0) return paint(label);
  return paint(label.padEnd(width) + AFTER_LABEL) + shown.join(BETWEEN_MODES);
}

/**
 * Grids below one another, their labels and the groups of each mode in one common width, under the
 * names of the modes. Empty grids are left out.
 */
export function gridBlock(heads: readonly string[], grids: readonly Grid[], ink: Ink): readonly string[] {
  const filled = grids.filter((grid) => grid.lines.length > 0);
  const laid = filled.map((grid) => heads.map((_, group) => groupLines(grid, group)));
  const labels = filled.flatMap((grid) => grid.lines.map(({ label }) => label));
  const labelWidth = Math.max(0, ...labels.map(widthOf));
  const widths = heads.map((head, group) =>
    Math.max(widthOf(head), ...laid.map((groups) => widthOf(groups[group]?.[0] ?? ""))),
  );
  const total =
    labelWidth + AFTER_LABEL.length + widths.map((width) => " ".repeat(width)).join(BETWEEN_MODES).length;
  const sections = filled.flatMap(({ lines }, g) => [
    ...lines.map((each, r) =>
      line(
        each,
        labelWidth,
        widths.map((width, group) => laid[g]![group]![r]!.padEnd(width)),
        ink,
      ),
    ),
    ink.faint(rule(total)),
  ]);
  const top = heads.map((head, i) => head.padEnd(widths[i]!)).join(BETWEEN_MODES);
  const indent = " ".repeat(labelWidth) + AFTER_LABEL;
  return [ink.strong((indent + top).trimEnd()), ink.faint(rule(total)), ...sections];
}
