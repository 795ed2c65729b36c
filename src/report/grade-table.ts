/** Graded transistors on a terminal: one in full, several in a table with the pairs they make. */
import type { Grade, Grades } from "../bench/grade.ts";
import type { TestCircuit } from "../bench/transistor-test.ts";
import type { Worth } from "../bench/verdict.ts";
import { type Column, harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import type { WrittenGrade } from "./grade-files.ts";
import { type Ink, inkFor } from "./ink.ts";
import { amps, celsius, decimal, volts } from "./numbers.ts";
import { quantityText } from "./quantities.ts";
import type { TableOptions } from "./voltage-table.ts";

/** The test in a line: `9 V, collector 2.47 kΩ, base 2.2 MΩ`. */
export function testText({ supplyVolts, collectorOhms, baseOhms }: Omit<TestCircuit, "celsius">): string {
  return [
    quantityText(supplyVolts, "volt"),
    collectorOhms > 0 ? `collector ${quantityText(collectorOhms, "ohm")}` : "no collector resistor",
    `base ${quantityText(baseOhms, "ohm")}`,
  ].join(", ");
}

const gain = (hfe: number): string => decimal(hfe, hfe < 1000 ? 1 : 0);
const percent = (share: number): string => `${decimal(100 * share, share < 0.1 ? 1 : 0)} %`;
const naive = ({ naive_hfe, naive_error }: Grade): string =>
  `${gain(naive_hfe)} (${percent(naive_error)} too high)`;

/** `leakage good, hfe inside`. */
function verdictText({ verdict }: Grade): string {
  const spread = { inside: "inside the spread", weak: "below the spread", strong: "above the spread" };
  return [
    `leakage ${verdict.leakage ?? "not judged: no limit is known"}`,
    ...(verdict.hfe === undefined ? [] : [`hfe ${spread[verdict.hfe]}`]),
  ].join(", ");
}

const worthRows = (now: Worth, later: Worth): string[][] => [
  ["I_CEO", "leakage, base open", amps(now.iceo_amps), amps(later.iceo_amps)],
  ["I_CBO", "leakage, emitter open, estimated", amps(now.icbo_amps), amps(later.icbo_amps)],
  ["hfe", "freed of leakage", gain(now.hfe), gain(later.hfe)],
];

function inFull(one: WrittenGrade, { width }: TableOptions, ink: Ink): readonly string[] {
  const { verdict } = one;
  // tested at 25 °C there is nothing to be carried there
  const shown = one.celsius === 25 ? 3 : 4;
  const table = [
    ["", "", `at ${celsius(one.celsius)}`, "at 25 °C"],
    ...worthRows(one.measured, one.at_25),
    ["hfe", "leakage taken for gain", gain(one.naive_hfe), ""],
  ];
  const columns: readonly Column[] = [
    { align: "left" },
    { align: "left" },
    { align: "right", gap: 3 },
    { align: "right", gap: 3 },
  ];
  const [head, ...rows] = layOut(table, columns.slice(0, shown)).map((line) => unbound(line).trimEnd());
  const off = `${rows.pop()}   ${percent(one.naive_error)} too high`;
  const condemned = verdict.leakage === "condemned" ? ink.accent : ink.strong;
  return [
    ink.faint(head ?? ""),
    ...rows,
    unbound(off),
    "",
    ...wrap(verdictText(one), width).map(condemned),
    ...verdict.reasons.flatMap((reason) => wrap(`  ${reason}`, width, 4)),
    ...verdict.sources.flatMap((source) => wrap(`  limit: ${harmless(source)}`, width, 4)).map(ink.faint),
    ...(one.raised_vbe_volts === undefined
      ? []
      : wrap(
          `  It leaks less than the junctions of the type alone would: V_BE is taken as ${volts(one.raised_vbe_volts)}.`,
          width,
        )),
    "",
    ...one.netlist.trimEnd().split("\n"),
  ];
}

const HEADS = ["sample", "hfe", "I_CEO", "I_CBO", "hfe naive", "leakage", "hfe is", "pair with"];

function row(one: Grade): readonly string[] {
  return [
    harmless(one.sample),
    gain(one.at_25.hfe),
    amps(one.at_25.iceo_amps),
    amps(one.at_25.icbo_amps),
    naive(one),
    one.verdict.leakage ?? "–",
    one.verdict.hfe ?? "–",
    harmless(one.pair?.with ?? "–"),
  ];
}

/** A line a sample, highest hfe first; on a narrow terminal the naive figure goes. */
function several(results: readonly Grade[], { width }: TableOptions, ink: Ink): readonly string[] {
  const rows = [HEADS, ...results.map(row)];
  const all = HEADS.map((_, i) => i);
  const plans = [all, all.filter((i) => i !== 4), all.filter((i) => i !== 3 && i !== 4)];
  const laid = plans.map((columns) =>
    layOut(
      rows.map((cells) => columns.map((i) => cells[i]!)),
      columns.map((i) => ({ align: i === 0 || i >= 5 ? "left" : i === 1 ? "point" : "right" })),
    ).map((line) => unbound(line).trimEnd()),
  );
  const lines = laid.find((some) => some.every((line) => widthOf(line) <= width)) ?? laid.at(-1)!;
  const [head, ...body] = lines;
  const line = ink.faint(rule(Math.max(...lines.map(widthOf))));
  return [ink.strong(head!), line, ...body, line];
}

/** That the verdict on hfe counts at the sheet's current, not at that of the test. */
function countedAs(results: readonly Grade[], width: number): readonly string[] {
  const judged = results.filter(({ verdict }) => verdict.hfe !== undefined);
  const [first] = judged;
  if (first === undefined) return [];
  const one = judged.every(({ like }) => like === first.like);
  const sheet = one
    ? `the sheet of ${first.like} does, at ${quantityText(first.verdict.sheet_amps, "ampere")}`
    : "the sheet of its type does, at its current";
  return wrap(harmless(`"hfe is": counted as ${sheet} and with no collector-base voltage.`), width);
}

/** The pairs, best first. */
function pairLines({ results, pairsExact }: Grades, width: number): readonly string[] {
  const first = results.filter(
    (one, k) => one.pair !== undefined && results.findIndex(({ sample }) => sample === one.pair?.with) > k,
  );
  if (first.length === 0) return [];
  const sorted = first.toSorted((a, b) => a.pair!.hfe_ratio - b.pair!.hfe_ratio);
  return [
    pairsExact ? "Best-matched pairs" : "Well-matched pairs (too many samples to try all pairings)",
    ...sorted.flatMap(({ sample, pair }) =>
      wrap(
        harmless(
          `  ${sample} and ${pair!.with}: hfe ${percent(pair!.hfe_ratio - 1)} apart, I_CEO ${decimal(pair!.iceo_ratio, 2)} to 1`,
        ),
        width,
        4,
      ),
    ),
  ];
}

/** Grades with the blocks of the samples. */
export interface WrittenGrades extends Grades {
  readonly results: readonly WrittenGrade[];
}

/** The grades as text: one sample in full with its block, several in a table with their pairs. */
export function gradeTable(
  grades: WrittenGrades,
  test: Omit<TestCircuit, "celsius">,
  options: TableOptions,
): string {
  const { results } = grades;
  const ink = inkFor(options.color);
  const [only] = results;
  if (only === undefined) return "";
  const like = [...new Set(results.map((one) => one.like).filter((name) => name !== undefined))];
  const judged = like.length === 0 ? "" : `, judged as ${like.join(", ")}`;
  const title = results.length === 1 ? only.sample : `${results.length} samples, figures at 25 °C`;
  const currents =
    results.length === 1
      ? `; collector current ${amps(only.readings.open_amps)} with the base open, ${amps(only.readings.fed_amps)} with it fed`
      : "";
  const lines = [
    ...wrap(harmless(title + judged), options.width).map(ink.strong),
    ...wrap(`Test: ${testText(test)}${currents}`, options.width),
    "",
    ...(results.length === 1
      ? inFull(only, options, ink)
      : [
          ...several(results, options, ink),
          ...countedAs(results, options.width),
          "",
          ...pairLines(grades, options.width),
        ]),
  ];
  return `${lines.join("\n").trimEnd()}\n`;
}
