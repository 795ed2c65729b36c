/** What plot, drawing and table of waveforms share: which traces, their units, their marks. */

import type { WaveformConditions } from "../bench/waveform/conditions.ts";
import type { Waveform } from "../bench/waveform/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { decimal, withUnit } from "./numbers.ts";

/** One trace ready to be drawn. */
export interface Strip {
  readonly name: string;
  readonly unit: "V" | "A" | "rpm";
  readonly values: readonly number[];
}

/** A cursor with its letter. */
export interface Cursor {
  readonly letter: string;
  readonly seconds: number;
  readonly what: string;
}

const MOST_STRIPS = 5;
/** V or A that are rounding. */
const NOTHING = 1e-12;

export const unitText = (value: number, unit: Strip["unit"], digits = 3): string =>
  unit === "rpm"
    ? `${decimal(value, 0)}\u00a0rpm`
    : withUnit(Math.abs(value) < NOTHING ? 0 : value, unit, digits);

export const secondsText = (value: number, digits = 4): string =>
  withUnit(value, "s", digits)
    .replace(/(\.\d*?)0+(?=\D)/, "$1")
    .replace(/\.(?=\D)/, "");

/** Every trace of a result, by the name of its reading. */
export function stripsOf({ nets, currents = {}, speeds_rpm = {} }: Waveform): Strip[] {
  const list = (record: Readonly<Record<string, readonly number[]>>, unit: Strip["unit"], suffix: string) =>
    Object.entries(record).map(([name, values]) => ({ name: `${name}${suffix}`, unit, values }));
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

/** Cursors at what happened, and where the output is there. */
export function cursorsOf({ marks, paths }: Waveform): Cursor[] {
  const there = paths.flatMap(({ path, mute_seconds: seconds }) =>
    seconds === undefined || seconds === 0 ? [] : [{ what: `${path} within 1 dB of its gain`, seconds }],
  );
  return [...marks, ...there]
    .toSorted((a, b) => a.seconds - b.seconds)
    .slice(0, MOST_CURSORS)
    .map((mark, k) => ({ ...mark, letter: LETTERS[k]! }));
}

/** Start, tones and events as short phrases for titles. */
export function waveformPhrases({ start, tones, events }: WaveformConditions): string[] {
  return [
    start.from === "rest" ? "from rest" : "from the operating point",
    ...tones.map(({ part, hertz, volts }) => `${part} ${withUnit(hertz, "Hz")} ${withUnit(volts, "V")} rms`),
    ...(events.length > 0 ? [`${events.length} ${events.length === 1 ? "event" : "events"}`] : []),
  ];
}
