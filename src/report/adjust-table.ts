/** What an adjustment found, on a terminal: a sentence, the preferred values, the plot. */
import type { Adjustment } from "../bench/adjust.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { adjustPlot } from "./adjust-plot.ts";
import { knobText, outcome, readingText } from "./adjust-words.ts";
import { harmless, layOut, unbound, wrap } from "./columns.ts";
import { titled } from "./titled.ts";
import type { TableOptions } from "./voltage-table.ts";

function preferredLines({ preferred = [], value_unit, unit }: Adjustment): readonly string[] {
  if (preferred.length === 0) return [];
  const rows = preferred.map(({ series, value, achieved }) => [
    series,
    unbound(knobText(value, value_unit)),
    achieved === undefined ? "no operating point" : unbound(readingText(achieved, unit)),
  ]);
  const head = ["nearest of", "", "gives"];
  return layOut([head, ...rows], [{ align: "left" }, { align: "left" }, { align: "left" }]).map((line) =>
    line.trimEnd(),
  );
}

function others({ others: places, value_unit }: Adjustment): string {
  return places.length === 0
    ? ""
    : `The condition is met as well at ${places.map((each) => knobText(each, value_unit)).join(", ")}.`;
}

/** For every mode what was found, what preferred values give, and the condition over the whole range. */
export function adjustTable(
  circuit: Circuit,
  results: readonly Adjustment[],
  conditions: readonly string[],
  options: TableOptions,
): string {
  const found = [
    ...results.flatMap((result) => [
      "",
      ...wrap(harmless(`${result.mode}: ${outcome(result)}`), options.width),
      ...wrap(harmless(others(result)), options.width).filter((line) => line !== ""),
      ...section(preferredLines(result)),
      ...section(adjustPlot(result, options)),
    ]),
  ];
  return titled(circuit, conditions, found, options);
}

const section = (lines: readonly string[]): readonly string[] => (lines.length === 0 ? [] : ["", ...lines]);
