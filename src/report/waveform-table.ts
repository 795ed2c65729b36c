/** Readings taken from waveforms, as a table. */
import { TOLERANCE } from "../bench/waveform/conditions.ts";
import type { Periodic, TraceReading, Waveform } from "../bench/waveform/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { decimal, gainText, hertz } from "./numbers.ts";
import type { TableOptions } from "./voltage-table.ts";
import {
  coarseText,
  contactLines,
  cursorsOf,
  type Strip,
  secondsText,
  stripsOf,
  unitText,
} from "./waveform-words.ts";

const RIGHT: Column = { align: "right", gap: 3 };

const block = (head: readonly string[], rows: readonly (readonly string[])[], ink: Ink): string[] => {
  // a column that nothing fills is left out
  const filled = head.map((_, k) => k === 0 || rows.some((row) => row[k] !== ""));
  const cells = [head, ...rows].map((row) =>
    row.filter((_, k) => filled[k]).map((cell) => unbound(harmless(cell))),
  );
  const laid = layOut(cells, [{ align: "left" }, ...cells[0]!.slice(1).map(() => RIGHT)]).map((line) =>
    line.trimEnd(),
  );
  const [first = "", ...others] = laid;
  return [ink.faint(first), ink.faint(rule(Math.max(...laid.map(widthOf)))), ...others];
};

export const LEVEL_HEAD: readonly string[] = ["", "least", "greatest", "last", "settled after"];

/** Every trace: where it lies, when it has settled. */
export function levelRows(result: Waveform): string[][] {
  return stripsOf(result).map(({ name, unit }) => {
    const { least, greatest, last, settled_seconds } = result.readings[name]!;
    const value = (number: number) => unitText(number, unit);
    return [
      name,
      value(least),
      value(greatest),
      value(last),
      settled_seconds === undefined ? "" : secondsText(settled_seconds, 3),
    ];
  });
}

/** Of what hardly has a first harmonic, such as the current of a push-pull stage, no more is told. */
const MOST_SHARE = 10;

const share = (value: number): string =>
  value > MOST_SHARE ? "> 1000 %" : `${decimal(100 * value, value < 0.01 ? 3 : 1)} %`;

/** A mean beside its swing, to the decimal place that a run at the usual tolerance is good for. */
function rounded(mean: number, peak: number): number {
  const place = 10 ** Math.ceil(Math.log10(TOLERANCE * peak));
  return place > 0 ? place * Math.round(mean / place) : mean;
}

function periodicRow({ name, unit }: Strip, periodic: Periodic): string[] {
  return [
    name,
    hertz(Number(periodic.hertz.toPrecision(6))),
    unitText(rounded(periodic.mean, periodic.peak), unit),
    unitText(periodic.peak, unit),
    unitText(periodic.rms, unit),
    share(periodic.distortion),
    `${decimal(100 * periodic.duty, 1)} %`,
  ];
}

const reading = (result: Waveform, { name }: Strip): TraceReading => result.readings[name]!;

export const PERIODIC_HEAD: readonly string[] = [
  "repeats itself",
  "at",
  "mean",
  "peak",
  "rms",
  "harmonics",
  "high for",
];

/** Every trace that repeats itself. */
export const periodicRows = (result: Waveform): string[][] =>
  stripsOf(result).flatMap((strip) => {
    const { periodic } = reading(result, strip);
    return periodic === undefined ? [] : [periodicRow(strip, periodic)];
  });

function periodicLines(result: Waveform, ink: Ink): string[] {
  const rows = periodicRows(result);
  return rows.length === 0 ? [] : ["", ...block(PERIODIC_HEAD, rows, ink)];
}

export const BUILD_UP_HEAD: readonly string[] = ["builds up", "at", "e-fold in"];

/** Every trace whose swing grows. */
export const buildUpRows = (result: Waveform): string[][] =>
  stripsOf(result).flatMap((strip) => {
    const { build_up: growth } = reading(result, strip);
    if (growth === undefined) return [];
    return [
      [strip.name, hertz(Number(growth.hertz.toPrecision(5))), secondsText(1 / growth.growth_per_second)],
    ];
  });

function buildUpLines(result: Waveform, ink: Ink): string[] {
  const rows = buildUpRows(result);
  return rows.length === 0 ? [] : ["", ...block(BUILD_UP_HEAD, rows, ink)];
}

/** A path of less gain than this is none, dB. */
const NO_WAY = -120;

/** When each path has its gain, a sentence each. */
export const pathLines = ({ paths }: Waveform): string[] =>
  paths.map(({ path, final_gain_db, mute_seconds }) => {
    const final = gainText(final_gain_db, "voltage");
    if (final_gain_db < NO_WAY) return `${path}: nothing comes through at the end, ${final} at 1 kHz`;
    if (mute_seconds === undefined) return `${path}: not yet within 1 dB of its gain of ${final} at 1 kHz`;
    if (mute_seconds === 0) return `${path}: within 1 dB of its gain of ${final} at 1 kHz all the time`;
    return `${path}: mute for ${secondsText(mute_seconds, 3)}, then within 1 dB of its gain of ${final} at 1 kHz`;
  });

function modeLines(circuit: Circuit, result: Waveform, { width }: TableOptions, ink: Ink): string[] {
  const marks = cursorsOf(result).map(
    ({ letter, seconds, what }) => `${ink.accent(letter)} ${secondsText(seconds, 5)}  ${what}`,
  );
  const { interrupted_seconds: stopped } = result;
  const coarse = coarseText(result, stripsOf(result));
  const said = [
    ...pathLines(result),
    ...contactLines(circuit, result),
    ...(coarse === undefined ? [] : [`${coarse}; drawn from the least to the greatest between them.`]),
  ];
  return [
    "",
    ink.strong(harmless(result.mode)),
    ...(stopped === undefined ? [] : [ink.accent(`interrupted at ${secondsText(stopped)}`)]),
    ...marks.map((line) => unbound(line)),
    ...said.flatMap((line) => wrap(harmless(line), width).map(unbound)),
    "",
    ...block(LEVEL_HEAD, levelRows(result), ink),
    ...periodicLines(result, ink),
    ...buildUpLines(result, ink),
  ];
}

/** Marks, mute times and readings of every mode. */
export function waveformTable(
  circuit: Circuit,
  results: readonly Waveform[],
  conditions: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const lines = [
    ...wrap(harmless(circuit.title), options.width).map(ink.strong),
    ...wrap(harmless(["waveforms", ...conditions].join(" · ")), options.width),
    ...results.flatMap((result) => modeLines(circuit, result, options, ink)),
  ];
  return `${lines.join("\n").trimEnd()}\n`;
}
