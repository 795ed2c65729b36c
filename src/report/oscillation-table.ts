/** Natural frequencies on a terminal: what grows, with what margin, and what swings as it dies. */
import type { Level, NaturalFrequency, OscillationChart } from "../bench/oscillation/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { decimal, volts } from "./numbers.ts";
import {
  frequencyText,
  growingSentences,
  marginTexts,
  NOTHING_GROWS,
  partsText,
  rateText,
} from "./oscillation-words.ts";
import { titled } from "./titled.ts";
import type { TableOptions } from "./voltage-table.ts";

const COLUMNS: readonly Column[] = [
  { align: "right" },
  { align: "left" },
  { align: "point" },
  { align: "left" },
];
const LEVEL_COLUMNS: readonly Column[] = [
  { align: "left" },
  { align: "right" },
  { align: "right" },
  { align: "right" },
];
/** Swinging ones that die away, shown at most. */
const MOST = 12;

const swings = ({ hertz }: NaturalFrequency) => hertz > 0;
const grows = ({ growth_per_second: growth }: NaturalFrequency) => growth > 0;

/** Frequency, rate, Q, parts. */
export function naturalRow(natural: NaturalFrequency): readonly string[] {
  const q = natural.q === undefined || !swings(natural) ? "" : decimal(natural.q, natural.q < 10 ? 2 : 0);
  return [frequencyText(natural), rateText(natural), q, partsText(natural)].map(unbound);
}

/** The growing ones, those that swing as they die, and the slowest of the rest. */
export function shownOf({ natural }: OscillationChart): readonly NaturalFrequency[] {
  const dying = natural.filter((each) => !grows(each));
  const slowest = dying.find((each) => !swings(each));
  return [
    ...natural.filter(grows),
    ...dying.filter(swings).slice(0, MOST),
    ...(slowest === undefined ? [] : [slowest]),
  ];
}

function table(chart: OscillationChart, ink: Ink): readonly string[] {
  const shown = shownOf(chart);
  const laid = layOut([["", "", "Q", "parts"], ...shown.map(naturalRow)], COLUMNS).map((line) =>
    line.trimEnd(),
  );
  const width = Math.max(...laid.map(widthOf));
  const rest = chart.natural.length - shown.length;
  return [
    ink.faint(laid[0]!),
    ink.faint(rule(width)),
    ...laid.slice(1).map((line, k) => (grows(shown[k]!) ? ink.accent(line) : line)),
    ...(rest > 0 ? [ink.faint(`and ${rest} more that die away`)] : []),
  ];
}

/** With one harmonic nothing is known of the others. */
const distortionText = (distortion: number, harmonics: number): string =>
  harmonics === 1 ? "–" : `${decimal(100 * distortion, 1)} %`;

/** Net, peak, mean and distortion of a steady swing, the strongest first. */
export const levelRows = (nets: Readonly<Record<string, Level>>, harmonics: number): readonly string[][] =>
  Object.entries(nets)
    .sort(([, a], [, b]) => b.volts_peak - a.volts_peak)
    .map(([name, { volts_peak, mean_volts, distortion }]) => [
      harmless(name),
      volts(volts_peak),
      volts(mean_volts),
      distortionText(distortion, harmonics),
    ]);

function levels(nets: Readonly<Record<string, Level>>, harmonics: number): readonly string[] {
  const rows = levelRows(nets, harmonics).map((cells) => cells.map(unbound));
  return layOut([["", "peak", "mean", "distortion"], ...rows], LEVEL_COLUMNS).map((line) => line.trimEnd());
}

function story(chart: OscillationChart, width: number): readonly string[] {
  const told = chart.growing.flatMap((growing) => {
    const { steady } = growing;
    const sentences = growingSentences(growing);
    const nets = steady !== undefined && "nets" in steady ? levels(steady.nets, steady.harmonics) : [];
    return ["", ...sentences.flatMap((text) => wrap(harmless(text), width)), ...nets];
  });
  const quiet = chart.growing.length === 0 ? ["", NOTHING_GROWS] : [];
  const margins = marginTexts(chart).flatMap((text) => wrap(harmless(text), width));
  return [...quiet, ...told, ...(margins.length > 0 ? ["", ...margins] : [])];
}

/** Every mode with its natural frequencies, and for each that grows its parts, margins and steady swing. */
export function oscillationTable(
  circuit: Circuit,
  charts: readonly OscillationChart[],
  conditions: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const found = [
    ...charts.flatMap((chart) => [
      "",
      ink.strong(harmless(chart.mode)),
      ...table(chart, ink),
      ...story(chart, options.width),
    ]),
  ];
  return titled(circuit, ["Natural frequencies at the operating point", ...conditions], found, options);
}
