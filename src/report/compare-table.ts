/** Two paths against each other, on a terminal and as comma-separated values. */

import type { PartEffect } from "../bench/compare/effects.ts";
import type { Comparison } from "../bench/compare.ts";
import { harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import { lines } from "./csv.ts";
import { inkFor } from "./ink.ts";
import { decibels, gainText, hertz, signed } from "./numbers.ts";
import { sideBySide } from "./side-by-side.ts";
import type { TableOptions } from "./voltage-table.ts";

/** What the two paths are called: with their modes where they are one path. */
export function comparedLabels({ paths: [a, b] }: Comparison): readonly [string, string] {
  if (a.path !== b.path) return [a.path, b.path];
  return [`${a.path} in ${a.mode}`, `${b.path} in ${b.mode}`];
}

const hasHead = ({ head_db }: Comparison): boolean => head_db.some((level) => level !== 0);

/** Whether the whole pass is more than the sum of the two curves. */
export const hasWholePass = (comparison: Comparison): boolean =>
  hasHead(comparison) || comparison.tape_loss_db !== undefined;

const level = (value: number | null | undefined): string =>
  value === null || value === undefined ? "–" : decibels(value);

function curves(comparison: Comparison, options: TableOptions): readonly string[] {
  const { paths, hertz: all, sum_db, head_db, tape_loss_db, whole_pass_db } = comparison;
  const labels = comparedLabels(comparison).map(harmless);
  const group = (label: string, values: readonly (number | null)[]) => ({
    label,
    heads: ["dB"],
    rows: all.map((_, i) => [level(values[i])]),
  });
  const groups = [
    group(labels[0]!, paths[0].gain_db),
    group(labels[1]!, paths[1].gain_db),
    group("sum", sum_db),
    ...(hasHead(comparison) ? [group("head", head_db)] : []),
    ...(tape_loss_db === undefined ? [] : [group("tape loss", tape_loss_db)]),
    ...(hasWholePass(comparison) ? [group("whole pass", whole_pass_db)] : []),
  ];
  return sideBySide(all, groups, options);
}

function effectText({ carries, level_db, shape_db, shape_hertz }: PartEffect): readonly string[] {
  if (carries || level_db === null || shape_db === null || shape_hertz === null) {
    return ["carries it", "", ""];
  }
  const nothing = Math.abs(level_db) < 0.05 && Math.abs(shape_db) < 0.05;
  if (nothing) return ["–", "", ""];
  return [decibels(level_db), decibels(shape_db), unbound(hertz(shape_hertz))];
}

/** For each switched part, what it does to the level and to the shape of each curve. */
function effects(comparison: Comparison, { color }: TableOptions): readonly string[] {
  const { switched, reference_hertz } = comparison;
  if (switched.length === 0) return [];
  const ink = inkFor(color);
  const labels = comparedLabels(comparison).map(harmless);
  const heads = ["level", "shape", "at"];
  const body = layOut(
    [
      ["", "in", ...heads, ...heads],
      ...switched.map(({ part, mode, effects: [a, b] }) => [
        harmless(part),
        harmless(mode),
        ...effectText(a),
        ...effectText(b),
      ]),
    ],
    [
      { align: "left" },
      { align: "left" },
      { align: "point", gap: 3 },
      { align: "point" },
      { align: "right" },
      { align: "point", gap: 3 },
      { align: "point" },
      { align: "right" },
    ],
  );
  const width = Math.max(...body.map(widthOf));
  return [
    `Switched parts: what each does to ${labels.join(" and to ")}, dB; level at ${hertz(reference_hertz)}`,
    ink.faint(body[0]!.trimEnd()),
    ink.faint(rule(width)),
    ...body.slice(1).map((row) => row.trimEnd()),
    ink.faint(rule(width)),
    "",
  ];
}

/** What one reads off a comparison, in sentences. */
export function comparisonWords(comparison: Comparison): readonly string[] {
  const { paths, apart, reference_hertz } = comparison;
  const labels = comparedLabels(comparison);
  const starts = paths.map(
    ({ reference_db, quantity }, i) => `${labels[i]} ${gainText(reference_db, quantity)}`,
  );
  const places = apart.map(({ hertz: f, difference_db }) => `${hertz(f)} (${signed(difference_db)}\u00a0dB)`);
  return [
    `0\u00a0dB at ${hertz(reference_hertz)}: ${starts.join(", ")}`,
    places.length === 0
      ? `${labels[0]} and ${labels[1]} have the same shape`
      : `${labels[0]} above ${labels[1]} differs most at ${places.join(", ")}`,
  ];
}

/** Both curves, their sum and the whole pass (dB); where they differ most; what the switched parts do. */
export function comparisonTable(comparisons: readonly Comparison[], options: TableOptions): string {
  const all = comparisons.flatMap((comparison) => [
    ...curves(comparison, options),
    ...effects(comparison, options),
    ...comparisonWords(comparison).flatMap((words) => wrap(harmless(words), options.width)),
  ]);
  return all.length === 0 ? "" : `${all.join("\n")}\n`;
}

/** A row a frequency; curves, sum, head, loss, whole pass, and what each switched part does to each curve. */
export function comparisonCsv(comparisons: readonly Comparison[]): string {
  return comparisons.map(csvOf).join("\n");
}

function csvOf(comparison: Comparison): string {
  const { paths, hertz: all, switched } = comparison;
  const labels = comparedLabels(comparison);
  const changes = switched.flatMap(({ part, effects: both }) =>
    both.map(({ change_db }, i) => ({ head: `${part} on ${labels[i]} db`, values: change_db ?? [] })),
  );
  const columns: { head: string; values: readonly (number | null)[] }[] = [
    { head: `${labels[0]} gain_db`, values: paths[0].gain_db },
    { head: `${labels[1]} gain_db`, values: paths[1].gain_db },
    { head: "difference_db", values: comparison.difference_db },
    { head: "sum_db", values: comparison.sum_db },
    { head: "head_db", values: comparison.head_db },
    { head: "tape_loss_db", values: comparison.tape_loss_db ?? [] },
    { head: "whole_pass_db", values: comparison.whole_pass_db },
    ...changes,
  ];
  return lines([
    ["hertz", ...columns.map(({ head }) => head)],
    ...all.map((f, i) => [f, ...columns.map(({ values }) => values[i] ?? undefined)]),
  ]);
}
