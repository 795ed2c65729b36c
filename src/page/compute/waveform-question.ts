/** From what stands in the fields of the waveforms to the question, or to a sentence on what is amiss. */
import type { Conditions } from "../../bench/conditions.ts";
import {
  LONGEST_RUN,
  type PlannedEvent,
  SHORTEST_RUN,
  type Shown,
  type Tone,
  usualDuration,
  VALUES,
  type WaveformConditions,
} from "../../bench/waveform/conditions.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { readQuantity } from "../../language/index.ts";
import { sourcesIn } from "../../parts/index.ts";
import { type Amiss, readDisplaced, readEvents, readShown, silentSource } from "./waveform-words.ts";

/** As typed; empty fields are the usual ones. */
export interface WaveformFields {
  /** `rest` or `point`. */
  readonly start: string;
  /** Nets that start elsewhere, `tank = 10 mV`. */
  readonly displaced: string;
  /** How long, `1 s`. */
  readonly seconds: string;
  readonly source: string;
  /** `tone`, `tones` of two frequencies, or a `burst`. */
  readonly sound: string;
  readonly hertz: string;
  readonly volts: string;
  /** The second of two tones. */
  readonly otherHertz: string;
  readonly otherVolts: string;
  /** When a burst begins and ends. */
  readonly from: string;
  readonly until: string;
  /** What happens when, a line each, `50 ms S1 = record`. */
  readonly events: string;
  /** Shown names of nets; outputs, supplies and what moves most if none. */
  readonly nets: readonly string[];
  /** What is looked at besides, `R5 current`. */
  readonly also: string;
}

export const FIELDS: WaveformFields = {
  start: "rest",
  displaced: "",
  seconds: "",
  source: "",
  sound: "tone",
  hertz: "1 kHz",
  volts: "1 mV",
  otherHertz: "60 Hz",
  otherVolts: "4 mV",
  from: "2 ms",
  until: "10 ms",
  events: "",
  nets: [],
  also: "",
};

/** What is amiss, and in which field. */
export interface FieldAmiss extends Amiss {
  readonly field: keyof WaveformFields;
}

/** What stops the reading; caught by `waveformQuestion`, which gives it back. */
class Refused extends Error {
  readonly amiss: FieldAmiss;
  constructor(field: keyof WaveformFields, message: string) {
    super(message);
    this.amiss = { field, message };
  }
}

/** How each field is called in a sentence. */
const CALLED: Readonly<Partial<Record<keyof WaveformFields, string>>> = {
  seconds: "duration",
  hertz: "frequency",
  volts: "EMF",
  otherHertz: "second frequency",
  otherVolts: "second EMF",
  from: "beginning of the burst",
  until: "end of the burst",
  displaced: "starts elsewhere",
  events: "what happens",
  also: "also shown",
};

function found<Value extends object>(field: keyof WaveformFields, read: Value | Amiss): Value {
  if ("message" in read) throw new Refused(field, `${CALLED[field]}: ${read.message}`);
  return read;
}

type Unit = Parameters<typeof readQuantity>[1];

function quantity(
  fields: WaveformFields,
  field: "seconds" | "hertz" | "volts" | "otherHertz" | "otherVolts" | "from" | "until",
  unit: Unit,
  example: string,
): number {
  const read = readQuantity(fields[field].trim(), unit);
  if (typeof read !== "number")
    throw new Refused(field, `${CALLED[field]}: ${read.message}; for example ${example}`);
  if ((read > 0 || (field === "from" && read === 0)) && read < Infinity) return read;
  throw new Refused(field, `${CALLED[field]}: give more than 0; for example ${example}`);
}

function tonesOf(fields: WaveformFields): readonly Tone[] {
  const { source: part, sound } = fields;
  const tone = (hertz: "hertz" | "otherHertz", volts: "volts" | "otherVolts"): Tone => ({
    part,
    hertz: quantity(fields, hertz, "hertz", "1 kHz"),
    volts: quantity(fields, volts, "volt", "1 mV"),
  });
  return [tone("hertz", "volts"), ...(sound === "tones" ? [tone("otherHertz", "otherVolts")] : [])];
}

/** A burst is a tone that is switched on and off. */
function burstOf(fields: WaveformFields): readonly PlannedEvent[] {
  const { source: part } = fields;
  const from = quantity(fields, "from", "second", "2 ms");
  const until = quantity(fields, "until", "second", "10 ms");
  if (until <= from) throw new Refused("until", "end of the burst: it ends before it begins");
  const keyed = (seconds: number, on: boolean): PlannedEvent => ({
    seconds,
    what: `${part}=${on ? "on" : "off"}`,
    states: [],
    keyed: { part, on },
  });
  return [keyed(from, true), keyed(until, false)];
}

function duration(fields: WaveformFields, tones: readonly Tone[], burst: readonly PlannedEvent[]): number {
  if (fields.seconds.trim() === "") return Math.max(usualDuration(tones), 2 * (burst.at(-1)?.seconds ?? 0));
  const seconds = quantity(fields, "seconds", "second", "20 ms");
  if (seconds < SHORTEST_RUN)
    throw new Refused("seconds", "duration: nothing in an audio circuit is so fast; for example 1 ms");
  if (seconds <= LONGEST_RUN) return seconds;
  throw new Refused("seconds", "duration: that is more than ten hours; for example 5 s");
}

function eventsOf(
  fields: WaveformFields,
  circuit: Circuit,
  tones: readonly Tone[],
  burst: readonly PlannedEvent[],
  seconds: number,
): readonly PlannedEvent[] {
  const late = burst.find((event) => event.seconds >= seconds);
  if (late !== undefined) {
    const field = late === burst[0] ? "from" : "until";
    throw new Refused(field, `${CALLED[field]}: it lies beyond the end of the run; let it run longer`);
  }
  const typed = found("events", readEvents(fields.events, circuit, seconds));
  const twice = burst.length > 0 && typed.some(({ keyed }) => keyed?.part === fields.source);
  if (twice)
    throw new Refused("events", `what happens: the burst switches ${fields.source} already; choose a tone`);
  const silent = silentSource(typed, tones);
  if (silent !== undefined) found("events", silent);
  return [...burst, ...typed];
}

const netsShown = ({ nets }: Circuit, names: readonly string[]): readonly Shown[] =>
  nets.flatMap(({ name }, net) =>
    net > 0 && names.includes(name) ? [{ kind: "net" as const, net, name }] : [],
  );

function shownOf({ nets, also }: WaveformFields, circuit: Circuit): readonly Shown[] {
  const chosen = [...netsShown(circuit, nets), ...found("also", readShown(also, circuit))];
  return [...new Map(chosen.map((each) => [each.name, each])).values()];
}

/** The question of one mode; nothing in it is left to chance. */
export function waveformQuestion(
  circuit: Circuit,
  conditions: Conditions,
  mode: string,
  fields: WaveformFields,
): WaveformConditions | FieldAmiss {
  try {
    const sounding = sourcesIn(circuit).includes(fields.source);
    const tones = sounding ? tonesOf(fields) : [];
    const burst = sounding && fields.sound === "burst" ? burstOf(fields) : [];
    const seconds = duration(fields, tones, burst);
    return {
      ...conditions,
      modes: [mode],
      seconds,
      every: seconds / VALUES,
      start: {
        from: fields.start === "point" ? "point" : "rest",
        displaced: found("displaced", readDisplaced(fields.displaced, circuit)),
      },
      tones,
      events: eventsOf(fields, circuit, tones, burst, seconds),
      shown: shownOf(fields, circuit),
    };
  } catch (error) {
    if (error instanceof Refused) return error.amiss;
    throw error;
  }
}
