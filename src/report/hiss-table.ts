/** Noise on a terminal: levels, who makes it, and its density against frequency. */
import type { Contributor, NoiseLevel, PathHiss } from "../bench/hiss/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import {
  bandText,
  densities,
  figureText,
  gainSentence,
  hissLabels,
  inputText,
  outputText,
  ratioText,
  shareText,
  unitOf,
  unsoundTexts,
} from "./hiss-words.ts";
import { type Ink, inkFor } from "./ink.ts";
import { plain } from "./numbers.ts";
import { quantityText } from "./quantities.ts";
import { sideBySide } from "./side-by-side.ts";
import { titled } from "./titled.ts";
import type { TableOptions } from "./voltage-table.ts";

/** Contributors named one by one, at most; and the share below which none is. */
const MOST_NAMED = 12;
const LEAST_SHARE = 0.01;

const HEADS = ["unweighted", "A", "ITU-R 468"] as const;
/** Columns shown and their gaps, from roomy to what any terminal holds. */
const PLANS = [
  { shown: [0, 1, 2, 3], gap: 3 },
  { shown: [0, 1, 2, 3], gap: 1 },
  { shown: [0, 1, 3], gap: 1 },
] as const;

const levels = (result: PathHiss): readonly NoiseLevel[] => [
  result,
  result.weighted.A,
  result.weighted["ITU-R 468"],
];

function levelRows(result: PathHiss): readonly (readonly string[])[] {
  const all = levels(result);
  const { emf_volts: emf } = result;
  return [
    ["", ...HEADS],
    ["at the output", ...all.map((level) => outputText(level, unitOf(result)))],
    ["as EMF of the source", ...all.map(inputText)],
    ...(emf === undefined
      ? []
      : [[`signal of ${quantityText(emf, "volt")} to noise`, ...all.map(ratioText)]]),
  ];
}

const shares = ({ share, weighted }: Contributor) => [share, weighted.A, weighted["ITU-R 468"]];

/** Those that matter under some curve, and all the others as one. */
function contributorRows({ contributors }: PathHiss): readonly (readonly string[])[] {
  const matter = contributors.filter((each) => Math.max(...shares(each)) >= LEAST_SHARE);
  const named = matter.slice(0, MOST_NAMED);
  const rest = contributors.filter((each) => !named.includes(each));
  const sums = HEADS.map((_, w) => rest.reduce((sum, each) => sum + shares(each)[w]!, 0));
  return [
    ["share of the power", ...HEADS],
    ...named.map((each) => {
      const mark = each.source ? " *" : "";
      return [`${each.part} ${each.origin}${mark}`, ...shares(each).map(shareText)];
    }),
    ...(rest.length === 0 ? [] : [[`${rest.length} others`, ...sums.map(shareText)]]),
  ];
}

function block(rows: readonly (readonly string[])[], width: number, ink: Ink): readonly string[] {
  const cells = rows.map((row) => row.map((cell) => unbound(harmless(cell))));
  const laid = PLANS.map(({ shown, gap }) =>
    layOut(
      cells.map((row) => shown.map((k) => row[k] ?? "")),
      shown.map((k): Column => ({ align: k === 0 ? "left" : "right", gap })),
    ).map((line) => line.trimEnd()),
  );
  const [head, ...lines] = laid.find((some) => some.every((line) => widthOf(line) <= width)) ?? laid.at(-1)!;
  return [ink.faint(head!), ink.faint(rule(Math.max(...[head!, ...lines].map(widthOf)))), ...lines];
}

function pathLines(result: PathHiss, label: string, width: number, ink: Ink): readonly string[] {
  const { from, to } = result;
  return [
    "",
    ...wrap(harmless(`${label}, ${from} to ${to}, ${bandText(result)}`), width).map(ink.strong),
    "",
    ...block(levelRows(result), width, ink),
    "",
    ...wrap(harmless(`${gainSentence(result)}; noise figure ${figureText(result)}`), width),
    ...(result.contributors.length === 0 ? [] : ["", ...block(contributorRows(result), width, ink)]),
  ];
}

/** Engineering prefixes from pico upwards. */
const SCALES = [
  [1e-12, "p"],
  [1e-9, "n"],
  [1e-6, "µ"],
  [1e-3, "m"],
  [1, ""],
] as const;

/** A column of densities under the prefix of the greatest. */
function densityGroup(result: PathHiss, label: string, frequencies: readonly number[]) {
  const all = densities(result);
  const greatest = Math.max(0, ...all);
  const [scale, prefix] = SCALES.findLast(([size]) => greatest >= size) ?? SCALES[0];
  return {
    label,
    heads: [`${prefix}${unitOf(result)}/√Hz`],
    rows: frequencies.map((frequency) => {
      const found = all[result.hertz.indexOf(frequency)];
      return found === undefined ? [] : [plain(found / scale)];
    }),
  };
}

function densityLines(results: readonly PathHiss[], options: TableOptions): readonly string[] {
  const labels = hissLabels(results).map(harmless);
  const frequencies = [...new Set(results.flatMap(({ hertz }) => hertz))].sort((a, b) => a - b);
  if (frequencies.length === 0) return [];
  const groups = results.map((result, i) => densityGroup(result, labels[i]!, frequencies));
  return [
    "",
    inkFor(options.color).strong("Density at the output"),
    "",
    ...sideBySide(frequencies, groups, options),
  ];
}

const READING =
  "Levels are rms under the curve; a quasi-peak meter after ITU-R 468 reads otherwise. As EMF of the source: output over gain at 1\u00a0kHz.";
const SOURCE = "* the source of the path.";
const NO_EMF = "With --emf 0.5mV: how far a signal of that EMF at 1\u00a0kHz stands above it.";

/** For every path and mode: noise levels, noise figure and contributors; then densities of all. */
export function hissTable(
  circuit: Circuit,
  results: readonly PathHiss[],
  conditions: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const labels = hissLabels(results);
  const needed = results.some(({ emf_volts }) => emf_volts === undefined);
  const found = [
    ...results.flatMap((result, i) => pathLines(result, labels[i]!, options.width, ink)),
    ...densityLines(results, options),
    ...(results.some(({ contributors }) => contributors.some(({ source }) => source)) ? [SOURCE] : []),
    ...unsoundTexts(results).flatMap((sentence) => wrap(harmless(sentence), options.width)),
    ...wrap(READING, options.width),
    ...(needed ? wrap(NO_EMF, options.width) : []),
  ];
  return titled(circuit, ["noise", ...conditions], found, options);
}
