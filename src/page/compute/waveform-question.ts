/** From what stands in the fields of the waveforms to the question, or to a sentence on what is amiss. */
import type { Conditions } from "../../bench/conditions.ts";
import type { Shown, Tone, WaveformConditions } from "../../bench/waveform/conditions.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { readQuantity } from "../../language/index.ts";
import { kindOf } from "../../parts/index.ts";

/** As typed; empty fields are the usual ones. */
export interface WaveformFields {
  readonly start: string;
  /** How long, `1 s`. */
  readonly seconds: string;
  readonly source: string;
  readonly hertz: string;
  readonly volts: string;
  /** Shown names of nets; outputs, supplies and what moves most if none. */
  readonly nets: readonly string[];
}

export const FIELDS: WaveformFields = {
  start: "rest",
  seconds: "",
  source: "",
  hertz: "1 kHz",
  volts: "1 mV",
  nets: [],
};

export interface Amiss {
  readonly message: string;
}

/** Without a word: one second, or so many periods of the tone, and so many values of each trace. */
const SECONDS = 1;
const TONE_PERIODS = 20;
const VALUES = 1000;
const LONGEST = 36_000;

export const sourcesIn = ({ parts }: Circuit): readonly string[] =>
  parts.filter((part) => kindOf(part).source).map(({ name }) => name);

function quantity(
  what: string,
  text: string,
  unit: Parameters<typeof readQuantity>[1],
  example: string,
): number | Amiss {
  const found = readQuantity(text.trim(), unit);
  if (typeof found !== "number") return { message: `${what}: ${found.message}; for example ${example}` };
  if (found > 0 && found < Infinity) return found;
  return { message: `${what}: give more than 0; for example ${example}` };
}

function toneOf({ source, hertz, volts }: WaveformFields, circuit: Circuit): Tone | Amiss | undefined {
  if (!sourcesIn(circuit).includes(source)) return undefined;
  const f = quantity("frequency", hertz, "hertz", "1 kHz");
  if (typeof f !== "number") return f;
  const level = quantity("EMF", volts, "volt", "1 mV");
  return typeof level === "number" ? { part: source, hertz: f, volts: level } : level;
}

function duration(text: string, tone: Tone | undefined): number | Amiss {
  if (text.trim() === "") return tone === undefined ? SECONDS : TONE_PERIODS / tone.hertz;
  const seconds = quantity("duration", text, "second", "20 ms");
  if (typeof seconds !== "number" || seconds <= LONGEST) return seconds;
  return { message: "duration: that is more than ten hours; for example 5 s" };
}

const shownIn = ({ nets }: Circuit, names: readonly string[]): readonly Shown[] =>
  nets.flatMap(({ name }, net) =>
    net > 0 && names.includes(name) ? [{ kind: "net" as const, net, name }] : [],
  );

/** The question of one mode; nothing in it is left to chance. */
export function waveformQuestion(
  circuit: Circuit,
  conditions: Conditions,
  mode: string,
  fields: WaveformFields,
): WaveformConditions | Amiss {
  const tone = toneOf(fields, circuit);
  if (tone !== undefined && "message" in tone) return tone;
  const seconds = duration(fields.seconds, tone);
  if (typeof seconds !== "number") return seconds;
  return {
    ...conditions,
    modes: [mode],
    seconds,
    every: seconds / VALUES,
    start: { from: fields.start === "point" ? "point" : "rest", displaced: [] },
    tones: tone === undefined ? [] : [tone],
    events: [],
    shown: shownIn(circuit, fields.nets),
  };
}
