/** How a playback path does with a tape, in words. */
import type { PlaybackOfTape, PlaybackResponse } from "../bench/playback.ts";
import { decibels, hertz, signed } from "./numbers.ts";

/** `3180 and 120 µs`; without a bass term `70 µs`. */
export function constantsText({ low_seconds, high_seconds }: PlaybackOfTape): string {
  const microseconds = (seconds: number) => String(Number((1e6 * seconds).toPrecision(4)));
  const high = microseconds(high_seconds);
  return low_seconds === null ? `${high}\u00a0µs` : `${microseconds(low_seconds)} and ${high}\u00a0µs`;
}

/** `tape of DIN 1962 (3180 and 120 µs) at 9.53 cm/s, 0 dB at 1 kHz`. */
export function tapeText(tape: PlaybackOfTape): string {
  const { standard, metres_per_second: speed, reference_hertz } = tape;
  const named = /[a-z]{2}/i.test(standard.replace("inf", ""));
  const what = named ? `${standard} (${constantsText(tape)})` : constantsText(tape);
  const pace = speed === null ? "" : ` at ${Number((100 * speed).toPrecision(4))}\u00a0cm/s`;
  return `tape of ${what}${pace}, 0\u00a0dB at ${hertz(reference_hertz)}`;
}

/** The frequencies outside the field. */
export const outside = ({ hertz: all, tape }: PlaybackResponse): readonly number[] =>
  all.filter((_, i) => side(tape, i) !== 0);

/** 1 above the field, −1 below, 0 inside or where there is none. */
export function side({ deviation_db, field }: PlaybackOfTape, i: number): -1 | 0 | 1 {
  const [off, least, greatest] = [deviation_db[i]!, field.least_db[i], field.greatest_db[i]];
  if (typeof greatest === "number" && off > greatest) return 1;
  return typeof least === "number" && off < least ? -1 : 0;
}

/** Inside or outside the field, and which frequency limits. */
export function verdict(response: PlaybackResponse): string {
  const { field, within, limiting_hertz, margin_db } = response.tape;
  if (within === null || limiting_hertz === null || margin_db === null) {
    return `no frequency lies in the range of the tolerance field ${field.name}`;
  }
  const shifted = field.shift_db === 0 ? "" : ` (shifted by ${signed(field.shift_db)}\u00a0dB to suit)`;
  const at = hertz(limiting_hertz);
  const size = `${decibels(Math.abs(margin_db))}\u00a0dB`;
  if (within) return `inside the field ${field.name}${shifted}; ${at} limits, with ${size} to spare`;
  const far = outside(response).map(hertz).join(", ");
  return `outside the field ${field.name}${shifted} at ${far}; worst at ${at}, by ${size}`;
}

/** What gap, spacing and coating of the head lose at the highest frequency; empty if nothing is known. */
export function headText({ hertz: all, tape, from }: PlaybackResponse): string {
  const top = all.reduce((best, f, i) => (f > all[best]! ? i : best), 0);
  const lost = tape.head_db[top] ?? 0;
  return lost === 0
    ? ""
    : `gap, spacing and coating of ${from} lose ${decibels(-lost)}\u00a0dB at ${hertz(all[top]!)}`;
}
