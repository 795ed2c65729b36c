/** What plot, drawing and table of waveforms share: which traces, their units, their marks. */

import type { WaveformConditions } from "../bench/waveform/conditions.ts";
import type { ContactReading, TraceEnvelope, Waveform } from "../bench/waveform/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { decimal, hertz, withUnit } from "./numbers.ts";

/** One trace ready to be drawn. */
export interface Strip {
  readonly name: string;
  readonly unit: "V" | "A" | "rpm";
  readonly values: readonly number[];
  /** Of one that moves faster than it is written down. */
  readonly envelope?: TraceEnvelope;
}

/** A cursor with its letter. */
export interface Cursor {
  readonly letter: string;
  readonly seconds: number;
  readonly what: string;
}

const MOST_STRIPS = 5;
/** Names in a sentence. */
const MOST_NAMED = 4;
/** V or A that are rounding. */
const NOTHING = 1e-12;

export const unitText = (value: number, unit: Strip["unit"], digits = 3): string =>
  unit === "rpm"
    ? `${decimal(value, 0)}\u00a0rpm`
    : withUnit(Math.abs(value) < NOTHING ? 0 : value, unit, digits);

export const secondsText = (value: number, digits = 4): string =>
  (value < 1000 ? withUnit(value, "s", digits) : `${Number(value.toPrecision(digits + 2))}\u00a0s`)
    .replace(/(\.\d*?)0+(?=\D)/, "$1")
    .replace(/\.(?=\D)/, "");

/** Every trace of a result, by the name of its reading. */
export function stripsOf({ nets, currents = {}, speeds_rpm = {}, envelopes = {} }: Waveform): Strip[] {
  const list = (record: Readonly<Record<string, readonly number[]>>, unit: Strip["unit"], suffix: string) =>
    Object.entries(record).map(([key, values]): Strip => {
      const name = `${key}${suffix}`;
      const envelope = envelopes[name];
      return { name, unit, values, ...(envelope && { envelope }) };
    });
  return [...list(nets, "V", ""), ...list(currents, "A", " current"), ...list(speeds_rpm, "rpm", " speed")];
}

/** Those that are drawn: all that were asked for, or outputs, supplies and what moves most. */
export function drawnStrips(circuit: Circuit, result: Waveform): Strip[] {
  const all = stripsOf(result);
  if (all.length <= MOST_STRIPS) return all;
  const ends = circuit.paths
    .filter(({ mode }) => mode === undefined || mode === result.mode)
    .flatMap(({ to }) => {
      if ("net" in to) return [to.net];
      return [circuit.parts.find(({ name }) => name === to.part)?.pins[0]?.net ?? 0];
    });
  const supplies = circuit.parts
    .filter(({ kind }) => kind === "battery")
    .flatMap(({ pins }) => pins.map(({ net }) => net));
  const wanted = [...new Set([...ends, ...supplies])]
    .filter((net) => net > 0)
    .map((net) => circuit.nets[net]!.name);
  const speeds = all.filter(({ unit }) => unit === "rpm").map(({ name }) => name);
  const travel = ({ name }: Strip) => {
    const { least = 0, greatest = 0 } = result.readings[name] ?? {};
    return greatest - least;
  };
  wanted.push(...speeds);
  const rest = all.filter(({ name }) => !wanted.includes(name)).sort((a, b) => travel(b) - travel(a));
  const chosen = [...all.filter(({ name }) => wanted.includes(name)), ...rest].slice(0, MOST_STRIPS);
  return all.filter((strip) => chosen.includes(strip));
}

const LETTERS = "abcdefghijklmnopqrstuvwxyz";
/** More cursors than this are not told apart any more. */
const MOST_CURSORS = 12;

/** Cursors at what was done, and where the output is there; what a governor does of itself is told as a whole. */
export function cursorsOf({ marks, paths, contacts = [] }: Waveform): Cursor[] {
  const workings = new Set(contacts.flatMap(workingsOf));
  const there = paths.flatMap(({ path, mute_seconds: seconds }) =>
    seconds === undefined || seconds === 0 ? [] : [{ what: `${path} within 1 dB of its gain`, seconds }],
  );
  return [...marks.filter(({ what }) => !workings.has(what)), ...there]
    .toSorted((a, b) => a.seconds - b.seconds)
    .slice(0, MOST_CURSORS)
    .map((mark, k) => ({ ...mark, letter: LETTERS[k]! }));
}

/** When a contact is open: from, to, s. */
export function openTimes(
  { marks, seconds }: Waveform,
  { contact, open_at_start: open }: ContactReading,
): (readonly [from: number, to: number])[] {
  const end = seconds.at(-1) ?? 0;
  const own = marks.filter(({ what }) => what === `${contact} opens` || what === `${contact} closes`);
  const opened = [
    ...(open ? [0] : []),
    ...own.filter(({ what }) => what.endsWith("opens")).map(({ seconds: at }) => at),
  ];
  const closed = [...own.filter(({ what }) => what.endsWith("closes")).map(({ seconds: at }) => at), end];
  return opened.map((from) => [from, closed.find((at) => at > from) ?? end]);
}

const rpm = (value: number): string => `${decimal(value, 0)}\u00a0rpm`;

/** What every governor did, a sentence each. */
export function contactLines(circuit: Circuit, { contacts = [], marks }: Waveform): string[] {
  const own = new Set(contacts.flatMap(workingsOf));
  const events = marks.some(({ what, seconds }) => seconds > 0 && !own.has(what));
  return contacts.map((contact) => contactLine(circuit, contact, events));
}

const workingsOf = ({ contact }: ContactReading) => [`${contact} opens`, `${contact} closes`];

function contactLine({ parts }: Circuit, reading: ContactReading, events: boolean): string {
  const { contact, motor, bursts, workings, last_rpm: last, open_at_end: open } = reading;
  const state = open ? "open" : "closed";
  if (bursts !== undefined) {
    const {
      per_second,
      open_seconds,
      open_share,
      rpm: mean,
      least_rpm: least,
      greatest_rpm: greatest,
    } = bursts;
    const ripple = decimal((100 * (greatest - least)) / (2 * mean), 2);
    return `${contact}: opens ${decimal(per_second, 1)} times a second for ${secondsText(open_seconds, 3)}, open ${decimal(100 * open_share, 1)}\u00a0% of the time; ${motor} at ${rpm(mean)}, ${rpm(least)} to ${rpm(greatest)}: ripple ±${ripple}\u00a0%`;
  }
  if (workings > 0)
    return `${contact}: worked ${workings === 1 ? "once" : `${workings} times`}, no whole period ${events ? "since the last event" : "yet"}; ${state} at the end, ${motor} at ${rpm(last)}`;
  const { opens = 0, closes = 0 } = parts.find(({ name }) => name === contact)?.values ?? {};
  return `${contact}: ${state} all the time; ${motor} has come to ${rpm(last)}, ${contact} ${open ? `closes at ${rpm(closes)}` : `opens at ${rpm(opens)}`}`;
}

/** How fast a trace swings, Hz: read over whole periods, else by its turns; 0 if it only moves beyond its values. */
function swingOf({ readings, envelopes = {} }: Waveform, name: string): number {
  const { about_hertz: about = 0 } = envelopes[name] ?? {};
  const { periodic, build_up: growing } = readings[name] ?? {};
  const exact = [periodic?.hertz, growing?.hertz].find((found = 0) => Math.abs(found - about) < 0.5 * about);
  return exact ?? about;
}

/** The fastest swing that is not shown swing by swing, Hz; 0 if there is none. */
export const fastestSwing = (result: Waveform, names = Object.keys(result.envelopes ?? {})): number =>
  Math.max(0, ...names.map((name) => swingOf(result, name)));

/** Which of these traces move faster than they are written down, and how fast; nothing if none does. */
export function coarseText(result: Waveform, strips: readonly Strip[]): string | undefined {
  const names = strips.filter(({ envelope }) => envelope !== undefined).map(({ name }) => name);
  const every = result.seconds[1];
  if (names.length === 0 || every === undefined) return undefined;
  const fastest = fastestSwing(result, names);
  const more = names.length - MOST_NAMED;
  const some = more > 0 ? [...names.slice(0, MOST_NAMED), `${more} more`] : names;
  const listed = [some.slice(0, -1).join(", "), some.at(-1)].filter((text) => text !== "").join(" and ");
  const apart = `values ${secondsText(every, 3)} apart`;
  const s = names.length === 1 ? "s" : "";
  return fastest > 0
    ? `${listed} swing${s} at up to ${hertz(Number(fastest.toPrecision(2)))}: ${apart} do not show each swing`
    : `${listed} move${s} farther between ${apart} than these show`;
}

/** Start, tones and events as short phrases for titles. */
export function waveformPhrases({ start, tones, events }: WaveformConditions): string[] {
  return [
    start.from === "rest" ? "from rest" : "from the operating point",
    ...tones.map(({ part, hertz, volts }) => `${part} ${withUnit(hertz, "Hz")} ${withUnit(volts, "V")} rms`),
    ...(events.length > 0 ? [`${events.length} ${events.length === 1 ? "event" : "events"}`] : []),
  ];
}
