/** The response on a terminal: a table, and under it what one reads off a response. */
import type { PathResponse } from "../bench/results.ts";
import { type Bandwidth, bandwidth } from "./bandwidth.ts";
import { type Column, harmless, layOut, widthOf, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { frequenciesOf, pathLabels } from "./labels.ts";
import { decibels, decimal, finiteDecibels, gainText, hertz, SILENCE_DB } from "./numbers.ts";
import { frequencyTable, underLabel } from "./side-by-side.ts";
import type { TableOptions } from "./voltage-table.ts";

const COLUMNS: readonly Column[] = [
  { align: "point", gap: 3 },
  { align: "right", gap: 2 },
];

/** Gain and phase of a path at the frequencies of the table; empty where the path has none. */
function pair(response: PathResponse, frequency: number): readonly [string, string] {
  const i = response.hertz.indexOf(frequency);
  const [gain, phase] = [response.gain_db[i], response.phase_degrees[i]];
  if (gain === undefined || phase === undefined) return ["", ""];
  const silent = finiteDecibels(gain) <= SILENCE_DB;
  return [decibels(finiteDecibels(gain)), silent ? "–" : decimal(phase, 0)];
}

const UNITS = { voltage: "dB", current: "dB A/V" } as const;

function table(responses: readonly PathResponse[], labels: readonly string[], ink: Ink): readonly string[] {
  const frequencies = frequenciesOf(responses);
  const blocks = responses.map((response, i) => {
    const rows = frequencies.map((f) => pair(response, f));
    return underLabel(labels[i]!, layOut([[UNITS[response.quantity], "°"], ...rows], COLUMNS));
  });
  return frequencyTable(frequencies, blocks, ink);
}

/** Tables of as many paths side by side as fit. */
function tables(responses: readonly PathResponse[], labels: readonly string[], options: TableOptions) {
  const ink = inkFor(options.color);
  const fits = (abreast: number) =>
    chunks(responses, abreast).every((some, i) =>
      table(some, labels.slice(i * abreast), inkFor(false)).every((line) => widthOf(line) <= options.width),
    );
  let abreast = Math.max(1, responses.length);
  while (abreast > 1 && !fits(abreast)) abreast--;
  return chunks(responses, abreast).flatMap((some, i) => [
    ...table(some, labels.slice(i * abreast), ink),
    "",
  ]);
}

const chunks = <Item>(items: readonly Item[], size: number): readonly (readonly Item[])[] =>
  items.flatMap((_, i) => (i % size === 0 ? [items.slice(i, i + size)] : []));

const HALF = "−3\u00a0dB";

/** The half-power points in words; an end the range does not reach is said so. */
export function halfPowerText({ reference_db, low_hertz, high_hertz }: Bandwidth): string {
  if (reference_db === undefined) return `${HALF} points need the gain at ${hertz(1000)}`;
  const half = `${HALF} re ${hertz(1000)}`;
  if (low_hertz !== undefined && high_hertz !== undefined) {
    return `${half} at ${hertz(low_hertz)} and ${hertz(high_hertz)}`;
  }
  if (low_hertz !== undefined) return `${half} at ${hertz(low_hertz)}, the upper point not in the range`;
  if (high_hertz !== undefined) return `${half} at ${hertz(high_hertz)}, the lower point not in the range`;
  return `${half}: no such point in the range`;
}

/** What one reads off a response, in a line of words. */
export function summary(response: PathResponse): string {
  const found = bandwidth(response);
  if (found.greatest_db <= SILENCE_DB) return "no output";
  const { quantity } = response;
  return [
    ...(found.reference_db === undefined
      ? []
      : [`${gainText(found.reference_db, quantity)} at ${hertz(1000)}`]),
    `greatest ${gainText(found.greatest_db, quantity)} at ${hertz(found.greatest_hertz)}`,
    halfPowerText(found),
  ].join("; ");
}

function summaries(responses: readonly PathResponse[], labels: readonly string[], width: number) {
  return responses.flatMap((response, i) =>
    wrap(harmless(`${labels[i]} (${response.from} to ${response.to}): ${summary(response)}`), width),
  );
}

/**
 * Frequencies down, gain (dB, of output over EMF) and phase (degrees) across by path; under the table,
 * for each path, the gain at 1 kHz, the greatest gain and the −3 dB points, read from the same paths at
 * `closer` frequencies where they were solved there too.
 */
export function responseTable(
  responses: readonly PathResponse[],
  options: TableOptions,
  closer: readonly PathResponse[] = responses,
): string {
  if (responses.length === 0) return "";
  const labels = pathLabels(responses).map(harmless);
  const lines = [...tables(responses, labels, options), ...summaries(closer, labels, options.width)];
  return `${lines.join("\n").trimEnd()}\n`;
}
