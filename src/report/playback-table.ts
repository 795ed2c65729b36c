/** Playback as the tape sees it, on a terminal and as comma-separated values. */
import type { PlaybackResponse } from "../bench/playback.ts";
import { harmless, wrap } from "./columns.ts";
import { type Field, lines } from "./csv.ts";
import { frequenciesOf, pathLabels } from "./labels.ts";
import { decibels, finiteDecibels, signed } from "./numbers.ts";
import { sideBySide } from "./side-by-side.ts";
import { headText, side, tapeText, verdict } from "./tape-words.ts";
import type { TableOptions } from "./voltage-table.ts";

const UNIT = { voltage: "gain dB", current: "gain dB A/V" } as const;
const MARK = { 1: "▲", 0: "", [-1]: "▼" } as const;

function row({ hertz, gain_db, tape }: PlaybackResponse, frequency: number): readonly string[] {
  const i = hertz.indexOf(frequency);
  if (i < 0) return [];
  const gain = finiteDecibels(gain_db[i]!);
  return [decibels(gain), decibels(tape.target_db[i]!), signed(tape.deviation_db[i]!), MARK[side(tape, i)]];
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1);

/** Gain, the gain that would be flat, and the deviation (dB) at each frequency; then who limits. */
export function playbackTable(responses: readonly PlaybackResponse[], options: TableOptions): string {
  const [first] = responses;
  if (first === undefined) return "";
  const labels = pathLabels(responses).map(harmless);
  const frequencies = frequenciesOf(responses);
  const groups = responses.map((response, i) => ({
    label: labels[i]!,
    heads: [UNIT[response.quantity], "target", "off flat", ""],
    rows: frequencies.map((frequency) => row(response, frequency)),
  }));
  const words = responses.flatMap((response, i) => {
    const said = [verdict(response), headText(response)].filter((text) => text !== "").join("; ");
    return wrap(harmless(`${labels[i]} (${response.from} to ${response.to}): ${said}`), options.width);
  });
  return [
    ...wrap(harmless(capital(tapeText(first.tape))), options.width),
    "",
    ...sideBySide(frequencies, groups, options),
    ...words,
    "",
  ].join("\n");
}

const KEYS = ["gain_db", "target_db", "deviation_db", "least_db", "greatest_db"] as const;

function values({ hertz, gain_db, tape }: PlaybackResponse, frequency: number): readonly Field[] {
  const i = hertz.indexOf(frequency);
  if (i < 0) return KEYS.map(() => undefined);
  const { least_db, greatest_db } = tape.field;
  return [
    finiteDecibels(gain_db[i]!),
    tape.target_db[i],
    tape.deviation_db[i],
    least_db[i] ?? undefined,
    greatest_db[i] ?? undefined,
  ];
}

/** A row a frequency; five columns a path: gain, target, deviation, and the limits of the field. */
export function playbackCsv(responses: readonly PlaybackResponse[]): string {
  const labels = pathLabels(responses);
  return lines([
    ["hertz", ...labels.flatMap((label) => KEYS.map((key) => `${label} ${key}`))],
    ...frequenciesOf(responses).map((hertz) => [
      hertz,
      ...responses.flatMap((response) => values(response, hertz)),
    ]),
  ]);
}
