import type { PlannedEvent, Tone } from "../bench/waveform/conditions.ts";
import { contradictions } from "../bench/waveform/contradictions.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { readSetting } from "../language/index.ts";
import { sourcesIn } from "../parts/index.ts";
import { secondsText } from "../report/waveform-words.ts";
import type { Arguments } from "./arguments.ts";
import { quantity } from "./conditions.ts";
import { Refusal, readEach } from "./refusal.ts";

/** A time as it is typed: `50ms`, `2us`. */
export const typed = (seconds: number, digits = 4): string =>
  secondsText(seconds, digits).replace("\u00a0", "").replace("µ", "u");

/** A time of an option, s, not before 0. */
export function time(option: string, text: string, whole = text): number {
  const seconds = quantity(option, text, "second");
  if (seconds >= 0) return seconds;
  throw new Refusal(`--${option} ${whole}: time begins at 0`, `for example --${option} 5ms`);
}

const EXAMPLE = 'write --at "50ms S1=record"';

const isSetting = (word: string) => /^[^=\s]+=./.test(word) && !word.endsWith(".netlist");

/** `--at 50ms S1=record`, typed without the quotes that hold the two words together, with them. */
export function withQuotes({ operands, given }: Arguments): Arguments {
  const settings = operands.filter(isSetting);
  const times = given.get("at") ?? [];
  const open = times.filter((text) => !text.includes("="));
  if (open.length === 0 || open.length !== settings.length) return { operands, given };
  const at = times.map((text) => (text.includes("=") ? text : `${text} ${settings.shift()}`));
  return { operands: operands.filter((word) => !isSetting(word)), given: new Map([...given, ["at", at]]) };
}

/** `50ms S1=record`, `0 B1=on`, `2ms R4=4k7`, `5ms G1=off`. */
export function readEvent(text: string, circuit: Circuit): PlannedEvent {
  const [, when, what] = /^\s*(\S+)\s+(.+?)\s*$/.exec(text) ?? [];
  if (when === undefined || what === undefined || !what.includes("="))
    throw new Refusal(`--at ${text}: what happens when?`, EXAMPLE);
  const seconds = time("at", when, text);
  const [, name = "", word = ""] = /^([^=\s]+)\s*=\s*(on|off)$/.exec(what) ?? [];
  if (sourcesIn(circuit).includes(name))
    return { seconds, what, states: [], keyed: { part: name, on: word === "on" } };
  const states = readSetting(circuit, what);
  if ("message" in states) throw new Refusal(`--at ${text}: ${states.message}`, states.hint ?? EXAMPLE);
  return { seconds, what, states };
}

/** One thing cannot be set to two values at once, nor a battery be switched on that is on. */
export function checkOrder(events: readonly PlannedEvent[]): void {
  readEach(contradictions(events), ({ part, value, seconds, before }) => {
    if (before.seconds === seconds)
      throw new Refusal(
        `--at: at ${typed(seconds)} ${part} is set to ${before.value} and to ${value}`,
        "a part has one state at a time: leave one of the two out",
      );
    throw new Refusal(
      `--at: at ${typed(seconds)} ${part} is switched ${value}, but it is ${value} already`,
      `since ${typed(before.seconds)}: leave one of the two out`,
    );
  });
}

/** Tones are switched of sources that have some. */
export function checkKeyed(events: readonly PlannedEvent[], tones: readonly Tone[]): void {
  readEach(events, ({ seconds, what, keyed }) => {
    if (keyed === undefined || tones.some(({ part }) => part === keyed.part)) return;
    throw new Refusal(
      `--at ${typed(seconds)} ${what}: ${keyed.part} has no tone to switch`,
      `add --tone 1kHz,20mV,${keyed.part}`,
    );
  });
}

/** Nothing can be done after the end. */
export function checkEnd(events: readonly PlannedEvent[], end: number): void {
  readEach(events, ({ seconds, what }) => {
    if (seconds < end) return;
    throw new Refusal(
      `--at ${typed(seconds)} ${what} lies beyond the end of the run at ${typed(end)}`,
      `for example --for ${typed(2 * seconds, 2)}`,
    );
  });
}
