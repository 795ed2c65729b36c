/** What the cursor shows, in words, and the table beneath the plot. */
import type { PlaybackResponse } from "../../bench/playback.ts";
import type { PathResponse } from "../../bench/results.ts";
import { bandwidth } from "../../report/bandwidth.ts";
import type { Curve } from "../../report/curves.ts";
import { decibels, decimal, gainText, hertz, SILENCE_DB } from "../../report/numbers.ts";
import { tapeText } from "../../report/tape-words.ts";
import type { DrawnTarget } from "./response-model.ts";

/** One path at the cursor: `playback 62.3 dB, −170°`. */
export function atCursor(
  { label, points }: Curve,
  { gain_db, quantity }: PathResponse,
  index: number,
): string {
  const gain = gain_db[index];
  if (gain === undefined || gain <= SILENCE_DB) return `${label} nothing`;
  const phase = points[index]?.phase;
  return `${label} ${gainText(gain, quantity)}${phase === undefined ? "" : `, ${decimal(phase, 0)}°`}`;
}

/** How far from the target, in words; empty without one. */
export function offTarget(target: DrawnTarget | undefined, index: number): string {
  const off = target?.response.tape.deviation_db[index];
  if (target === undefined || off === undefined) return "";
  if (Math.abs(off) < 0.05) return `${target.response.path} on the target`;
  return `${target.response.path} ${decibels(Math.abs(off))} dB ${off > 0 ? "above" : "below"} the target`;
}

/** What one reads off a response: gain at 1 kHz, greatest gain, −3 dB points. */
export function summary(response: PathResponse): readonly string[] {
  const { reference_db, greatest_db, greatest_hertz, low_hertz, high_hertz } = bandwidth(response);
  const at = (value: number | undefined) => (value === undefined ? "–" : hertz(Number(value.toPrecision(3))));
  return [
    reference_db === undefined ? "–" : gainText(reference_db, response.quantity),
    greatest_db <= SILENCE_DB ? "–" : `${gainText(greatest_db, response.quantity)} at ${at(greatest_hertz)}`,
    at(low_hertz),
    at(high_hertz),
  ];
}

/** What the tape is, and whether the path keeps within the field. */
export function playedWords({ path, tape }: PlaybackResponse): string {
  const { field, within, limiting_hertz: limiting, margin_db: margin } = tape;
  if (within === null || limiting === null || margin === null) return `${path}: ${tapeText(tape)}`;
  const at = hertz(Number(limiting.toPrecision(3)));
  const size = `${decibels(Math.abs(margin))} dB`;
  const name = field.name.replace(/^([\d.]+)dB$/, "$1\u00a0dB");
  const verdict = within
    ? `inside the field of ${name}, with ${size} to spare at ${at}`
    : `outside the field of ${name}, worst at ${at}, by ${size}`;
  return `${path} of a ${tapeText(tape)}: ${verdict}`;
}
