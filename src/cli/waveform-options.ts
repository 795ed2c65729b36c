import type { PlannedEvent, Shown, Start, Tone, WaveformConditions } from "../bench/waveform/conditions.ts";
import { TOLERANCE } from "../bench/waveform/follow.ts";
import type { Circuit, Part } from "../circuit/circuit.ts";
import { nearestWord, readSetting } from "../language/index.ts";
import { kindOf } from "../parts/index.ts";
import { type Arguments, listGiven, valueGiven, valuesGiven } from "./arguments.ts";
import { quantity, readConditions } from "./conditions.ts";
import { Refusal } from "./refusal.ts";

const SECONDS = 1;
const TONE_PERIODS = 20;
/** Values written down of each trace, if `--every` does not say. */
const VALUES = 1000;
/** More would fill the memory: values of all traces together, and of one. */
const MOST_VALUES = 20_000_000;
const MOST_OUTPUTS = 2_000_000;
const LONGEST = 36_000;

/** What `waveform` is asked for. */
export function readWaveform(given: Arguments, circuit: Circuit): WaveformConditions {
  const tones = valuesGiven(given, "tone").map((text) => readTone(text, circuit));
  const seconds = readFor(given, tones);
  const shown = listGiven(given, "show").map((text) => readShown(text, circuit));
  const events = readEvents(valuesGiven(given, "at"), circuit, seconds);
  checkKeyed(events, tones);
  const tolerance = readTolerance(given);
  return {
    ...readConditions(given, circuit),
    seconds,
    every: readEvery(given, seconds, shown.length > 0 ? shown.length : circuit.nets.length),
    start: readStart(given, circuit, tones.length > 0 || events.some(({ seconds: at }) => at > 0)),
    tones,
    events,
    shown,
    tolerance,
  };
}

function time(option: string, text: string): number {
  const seconds = quantity(option, text, "second");
  if (seconds >= 0) return seconds;
  throw new Refusal(`--${option} ${text}: time begins at 0`, `for example --${option} 5ms`);
}

function readFor(given: Arguments, tones: readonly Tone[]): number {
  const text = valueGiven(given, "for");
  if (text === undefined)
    return tones.length > 0 ? TONE_PERIODS / Math.min(...tones.map(({ hertz }) => hertz)) : SECONDS;
  const seconds = time("for", text);
  if (!(seconds > 0)) throw new Refusal(`--for ${text}: nothing happens in no time`, "for example --for 5s");
  if (seconds > LONGEST)
    throw new Refusal(`--for ${text}: that is more than ten hours`, "for example --for 5s");
  return seconds;
}

function readEvery(given: Arguments, seconds: number, traces: number): number {
  const text = valueGiven(given, "every");
  if (text === undefined) return seconds / VALUES;
  const every = time("every", text);
  const hint = `for example --every ${Number((seconds / VALUES).toPrecision(3))}s`;
  if (!(every > 0)) throw new Refusal(`--every ${text}: times need a distance`, hint);
  if (every > seconds) throw new Refusal(`--every ${text} is longer than the run of ${seconds} s`, hint);
  const count = seconds / every;
  if (count > MOST_OUTPUTS || count * traces > MOST_VALUES) {
    const millions = ((count * traces) / 1e6).toFixed(0);
    throw new Refusal(
      `--every ${text}: ${millions} million values in ${seconds} s are more than the memory holds`,
      `${hint}, or fewer nets by --show`,
    );
  }
  return every;
}

function readTolerance(given: Arguments): number {
  const text = valueGiven(given, "tolerance");
  if (text === undefined) return TOLERANCE;
  const tolerance = Number(text);
  if (tolerance >= 1e-9 && tolerance <= 1e-2) return tolerance;
  throw new Refusal(`--tolerance ${text}: give a number from 1e-9 to 1e-2`, `${TOLERANCE} is usual`);
}

// ---- start ---------------------------------------------------------------------------------------------

/** `rest`, `point`, and nets put to other voltages. Without a word: rest, or the point where something is done to it. */
function readStart(given: Arguments, circuit: Circuit, disturbed: boolean): Start {
  const words = valuesGiven(given, "start");
  const plain = words.filter((word) => word === "rest" || word === "point");
  if (new Set(plain).size > 1) throw new Refusal("--start rest and --start point exclude each other");
  const displaced = words
    .filter((word) => word !== "rest" && word !== "point")
    .map((word) => displacement(word, circuit));
  const fallback = disturbed || displaced.length > 0 ? "point" : "rest";
  return { from: (plain[0] as Start["from"] | undefined) ?? fallback, displaced };
}

function displacement(text: string, circuit: Circuit): Start["displaced"][number] {
  const equals = text.lastIndexOf("=");
  if (equals <= 0) {
    throw new Refusal(
      `--start ${text}: nothing starts so`,
      "write rest, point, or NET=VOLTS such as tank=10mV",
    );
  }
  const net = netNamed("start", text.slice(0, equals).trim(), circuit);
  if (net === 0) throw new Refusal(`--start ${text}: chassis is 0 V, always`);
  return { net, volts: quantity("start", text.slice(equals + 1), "volt") };
}

/** A net by its name or by a pin on it. */
function netNamed(option: string, name: string, circuit: Circuit): number {
  const [owner = "", pin = ""] = name.split(".");
  const part = circuit.parts.find((each) => each.name === owner);
  const canonical = part === undefined ? name : `${owner}.${kindOf(part).aliases?.[pin] ?? pin}`;
  const found = circuit.nets.findIndex((net) => net.name === name || net.points.includes(canonical));
  if (found >= 0) return found;
  const near = nearestWord(
    name,
    circuit.nets.flatMap((net) => [net.name, ...net.points]),
  );
  throw new Refusal(
    `--${option}: there is no net or pin ${name}`,
    near === undefined
      ? `there are ${circuit.nets
          .slice(1, 9)
          .map((net) => net.name)
          .join(", ")}`
      : `did you mean ${near}?`,
  );
}

// ---- tones ---------------------------------------------------------------------------------------------

const sourcesOf = ({ parts }: Circuit): readonly Part[] => parts.filter((part) => kindOf(part).source);

/** `1kHz,20mV` or `1kHz,20mV,G1`: a sine EMF, rms. */
function readTone(text: string, circuit: Circuit): Tone {
  const [frequency = "", level, part, ...more] = text.split(",").map((word) => word.trim());
  const example = "write a frequency and an EMF, rms: --tone 1kHz,20mV";
  if (level === undefined || more.length > 0) throw new Refusal(`--tone ${text}: not a tone`, example);
  const hertz = quantity("tone", frequency, "hertz");
  const volts = quantity("tone", level, "volt");
  if (!(hertz > 0)) throw new Refusal(`--tone ${text}: a tone has more than 0 Hz`, example);
  if (!(volts >= 0)) throw new Refusal(`--tone ${text}: the EMF of a tone is not negative`, example);
  return { hertz, volts, part: sourceNamed(part, text, circuit) };
}

function sourceNamed(name: string | undefined, text: string, circuit: Circuit): string {
  const names = sourcesOf(circuit).map((part) => part.name);
  const [only, second] = names;
  if (only === undefined)
    throw new Refusal(
      `--tone ${text}: the circuit has no generator and no head`,
      "add a line such as: generator G1 1mV in to chassis",
    );
  if (name !== undefined) {
    if (names.includes(name)) return name;
    const near = nearestWord(name, names);
    throw new Refusal(
      `--tone ${text}: there is no source ${name}`,
      near === undefined ? `the sources are ${names.join(", ")}` : `did you mean ${near}?`,
    );
  }
  const [path] = circuit.paths;
  if (second !== undefined && path === undefined)
    throw new Refusal(`--tone ${text}: the circuit has several sources`, `say which: --tone ${text},${only}`);
  return path?.from ?? only;
}

// ---- events --------------------------------------------------------------------------------------------

/** `50ms S1=record`, `0 B1=on`, `2ms R4=4k7`, `5ms G1=off`. */
function readEvents(texts: readonly string[], circuit: Circuit, end: number): PlannedEvent[] {
  const events = texts.map((text) => readEvent(text, circuit));
  const late = events.find(({ seconds }) => seconds >= end);
  if (late !== undefined)
    throw new Refusal(
      `--at ${late.seconds}s ${late.what} lies beyond the end of the run at ${end} s`,
      "give a longer --for",
    );
  checkOrder(events);
  return events;
}

function readEvent(text: string, circuit: Circuit): PlannedEvent {
  const [, when, what] = /^\s*(\S+)\s+(.+?)\s*$/.exec(text) ?? [];
  if (when === undefined || what === undefined || !what.includes("="))
    throw new Refusal(`--at ${text}: what happens when?`, 'write --at "50ms S1=record"');
  const seconds = time("at", when);
  const [, name = "", word = ""] = /^([^=\s]+)\s*=\s*(on|off)$/.exec(what) ?? [];
  if (sourcesOf(circuit).some((part) => part.name === name))
    return { seconds, what, states: [], keyed: { part: name, on: word === "on" } };
  const states = readSetting(circuit, what);
  if ("message" in states) throw new Refusal(`--at ${text}: ${states.message}`, states.hint);
  return { seconds, what, states };
}

/** One thing cannot be set to two values at once, nor a battery be switched on that is on. */
function checkOrder(events: readonly PlannedEvent[]): void {
  const last = new Map<string, { readonly value: number | string; readonly seconds: number }>();
  const all = events
    .toSorted((a, b) => a.seconds - b.seconds)
    .flatMap(({ seconds, states, keyed }) => [
      ...states.map((state) => ({ ...state, seconds })),
      ...(keyed ? [{ part: keyed.part, key: "tones", value: keyed.on ? "on" : "off", seconds }] : []),
    ]);
  for (const { part, key, value, seconds } of all) {
    const before = last.get(`${part} ${key}`);
    if (before?.seconds === seconds)
      throw new Refusal(
        `--at: at ${seconds} s ${part} is set to ${before.value} and to ${value}`,
        "a part has one state at a time",
      );
    if (before?.value === value && (key === "power" || key === "tones"))
      throw new Refusal(`--at: at ${seconds} s ${part} is switched ${value}, but it is ${value} already`);
    last.set(`${part} ${key}`, { value, seconds });
  }
}

function checkKeyed(events: readonly PlannedEvent[], tones: readonly Tone[]): void {
  const silent = events.find(({ keyed }) => keyed && !tones.some(({ part }) => part === keyed.part));
  if (silent?.keyed === undefined) return;
  throw new Refusal(
    `--at ${silent.seconds}s ${silent.what}: ${silent.keyed.part} has no tone to switch`,
    `add --tone 1kHz,20mV,${silent.keyed.part}`,
  );
}

// ---- what is looked at ---------------------------------------------------------------------------------

/** A net or pin, `A minus B`, `PART current`, `MOTOR speed`. */
function readShown(text: string, circuit: Circuit): Shown {
  const [, part = "", quantity_] = /^(\S+) (current|speed)$/.exec(text) ?? [];
  if (quantity_ !== undefined) return shownOfPart(part, quantity_ as "current" | "speed", text, circuit);
  const [plus = "", minus, ...more] = text.split(" minus ");
  if (more.length > 0) throw new Refusal(`--show ${text}: not a voltage`, "write A minus B");
  return {
    kind: "net",
    net: netNamed("show", plus.trim(), circuit),
    ...(minus !== undefined && { minus: netNamed("show", minus.trim(), circuit) }),
    name: text,
  };
}

function shownOfPart(name: string, kind: "current" | "speed", text: string, { parts }: Circuit): Shown {
  const part = parts.find((each) => each.name === name);
  if (part === undefined) {
    const near = nearestWord(
      name,
      parts.map((each) => each.name),
    );
    throw new Refusal(`--show ${text}: there is no part ${name}`, near && `did you mean ${near}?`);
  }
  if (kind === "speed" && part.kind !== "motor")
    throw new Refusal(`--show ${text}: ${name} is no motor`, "only motors have a speed");
  return { kind, part: name, name: text };
}
