/** What is typed about a run in time: what happens when, what starts elsewhere, what else is looked at. */
import type { PlannedEvent, Shown, Start, Tone } from "../../bench/waveform/conditions.ts";
import { contradictions } from "../../bench/waveform/contradictions.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { nearestWord, readQuantity, readSetting } from "../../language/index.ts";
import { netNamed } from "../../language/net-named.ts";
import { sourcesIn } from "../../parts/index.ts";
import { secondsText } from "../../report/waveform-words.ts";
import { withHint } from "../words.ts";

/** Why something typed was not understood, a sentence without its full stop. */
export interface Amiss {
  readonly message: string;
}

const meant = (word: string, words: readonly string[]): string => {
  const near = nearestWord(word, words);
  return near === undefined ? "" : `; did you mean ${near}?`;
};

const items = (text: string): readonly string[] =>
  text
    .split(/[,;\n]/)
    .map((item) => item.trim())
    .filter((item) => item !== "");

const isAmiss = (value: unknown): value is Amiss =>
  typeof value === "object" && value !== null && "message" in value;

/** All of them, or the first that is amiss. */
function all<Value>(list: readonly (Value | Amiss)[]): Value[] | Amiss {
  return list.find(isAmiss) ?? (list as Value[]);
}

/** A net by its name or by a pin on it. */
function netOf(name: string, circuit: Circuit): number | Amiss {
  const found = netNamed(circuit, name);
  if (found >= 0) return found;
  const words = circuit.nets.flatMap((net) => [net.name, ...net.points]);
  return { message: `there is no net or pin ${name}${meant(name, words)}` };
}

/** `tank = 10 mV`, several with commas between: nets that start elsewhere. */
export function readDisplaced(text: string, circuit: Circuit): Start["displaced"] | Amiss {
  return all(items(text).map((item) => displacement(item, circuit)));
}

function displacement(item: string, circuit: Circuit): Start["displaced"][number] | Amiss {
  const equals = item.lastIndexOf("=");
  if (equals <= 0) return { message: `“${item}” does not say which net starts where; write tank = 10 mV` };
  const net = netOf(item.slice(0, equals).trim(), circuit);
  if (typeof net !== "number") return net;
  if (net === 0) return { message: "chassis is 0 V, always" };
  const volts = readQuantity(item.slice(equals + 1), "volt");
  return typeof volts === "number" ? { net, volts } : { message: `${volts.message}; write tank = 10 mV` };
}

/** `R5 current`, `M1 speed`, `A minus B` or a net, with commas between: what is looked at besides. */
export function readShown(text: string, circuit: Circuit): readonly Shown[] | Amiss {
  return all(items(text).map((item) => shown(item, circuit)));
}

function shown(item: string, circuit: Circuit): Shown | Amiss {
  const [, name, kind] = /^(\S+)\s+(current|speed)$/.exec(item) ?? [];
  if (name !== undefined) return shownOfPart(name, kind as "current" | "speed", circuit);
  const [plus = "", minus, more] = item.split(/\s+minus\s+/);
  if (more !== undefined) return { message: `“${item}” is no voltage; write A minus B` };
  const net = netOf(plus, circuit);
  if (typeof net !== "number") return net;
  if (minus === undefined) return { kind: "net", net, name: item };
  const other = netOf(minus, circuit);
  return typeof other === "number" ? { kind: "net", net, minus: other, name: item } : other;
}

function shownOfPart(part: string, kind: "current" | "speed", { parts }: Circuit): Shown | Amiss {
  const found = parts.find(({ name }) => name === part);
  if (found === undefined) {
    const names = parts.map(({ name }) => name);
    return { message: `there is no part ${part}${meant(part, names)}` };
  }
  if (kind === "speed" && found.kind !== "motor")
    return { message: `${part} is no motor, and only motors have a speed` };
  return { kind, part, name: `${part} ${kind}` };
}

/** `50 ms S1 = record`, a line each: what happens when. `end` is that of the run, s. */
export function readEvents(text: string, circuit: Circuit, end: number): readonly PlannedEvent[] | Amiss {
  const lines = text.split(/[;\n]/).filter((line) => line.trim() !== "");
  const events = all(lines.map((line) => event(line.trim(), circuit)));
  if (isAmiss(events)) return events;
  const late = events.find(({ seconds }) => seconds >= end);
  if (late === undefined) return orderProblem(events) ?? events;
  return {
    message: `${late.what} at ${secondsText(late.seconds)} lies beyond the end of the run at ${secondsText(end)}; let it run longer`,
  };
}

function event(line: string, circuit: Circuit): PlannedEvent | Amiss {
  const [, when, name = "", word = ""] = /^(?:at\s+)?(.+?)\s+(\S+?)\s*=\s*(.+)$/.exec(line) ?? [];
  if (when === undefined)
    return { message: `“${line}” does not say what happens when; write 50 ms S1 = record` };
  const seconds = readQuantity(when, "second");
  if (typeof seconds !== "number") return { message: `${seconds.message}; write 50 ms S1 = record` };
  if (!(seconds >= 0)) return { message: `“${line}”: time begins at 0` };
  const what = `${name}=${word}`;
  if (sourcesIn(circuit).includes(name) && (word === "on" || word === "off"))
    return { seconds, what, states: [], keyed: { part: name, on: word === "on" } };
  const states = readSetting(circuit, what);
  if (!("message" in states)) return { seconds, what, states };
  return { message: withHint(states) };
}

/** The first thing that is set to two values at once, or switched on when it is on. */
function orderProblem(events: readonly PlannedEvent[]): Amiss | undefined {
  const [first] = contradictions(events);
  if (first === undefined) return undefined;
  const { part, value, seconds, before } = first;
  const at = `at ${secondsText(seconds)} ${part}`;
  return {
    message:
      before.seconds === seconds
        ? `${at} is set to ${before.value} and to ${value} at once`
        : `${at} is switched ${value}, but it is ${value} already`,
  };
}

/** A source can be switched only if it sounds. */
export function silentSource(events: readonly PlannedEvent[], tones: readonly Tone[]): Amiss | undefined {
  const silent = events.find(({ keyed }) => keyed && !tones.some(({ part }) => part === keyed.part));
  if (silent?.keyed === undefined) return undefined;
  return { message: `${silent.what}: ${silent.keyed.part} has no tone to switch; choose it as the source` };
}
