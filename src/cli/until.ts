import {
  type Condition,
  type Frequency,
  type Looked,
  TRANSISTOR_FIGURES,
  type TransistorFigure,
  unitOf,
} from "../bench/adjust/condition.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { nearestWord, readQuantity } from "../language/index.ts";
import { netNamed } from "../language/net-named.ts";
import { sourcesIn } from "../parts/index.ts";
import { Refusal } from "./refusal.ts";

const EXAMPLES = `write it like "T6.ic = 5 mA", "T1.c = -4.2 V", "gain playback at 1kHz = 50 dB", "lower -3dB of playback = 80 Hz" or "least |trap| at 52kHz"`;

/**
 * Reads a condition: what is looked at, `=` and a value; or `least` or `greatest` and what is looked at.
 *
 *     T6.ic = 5 mA                      ib ie vbe vce ptot tj; currents positive the way the arrow points
 *     T1.c = -4.2 V                     a net or pin; `A minus B`
 *     R5 current = 1 mA                 or voltage, from first pin to last
 *     gain playback at 1kHz = 50 dB     or a plain ratio
 *     lower -3dB of playback = 80 Hz    or upper
 *     least |trap| at 52kHz from K2     size of the signal at a net, for 1 V of EMF
 *     least |trap| at oscillation       where the circuit oscillates in the mode; a gain as well
 */
export function readUntil(text: string, circuit: Circuit): Condition {
  const plain = text.replaceAll("\u2212", "-").trim().replace(/\s+/g, " ");
  const [, aim, rest = plain] = /^(least|greatest) (.+)$/.exec(plain) ?? [];
  const equals = rest.indexOf("=");
  if (aim === "least" || aim === "greatest") {
    if (equals >= 0)
      throw refused(text, `${aim} takes no value`, `write "${aim} ${rest.slice(0, equals).trim()}"`);
    return { text: plain, aim, looked: lookedAt(rest, circuit, text) };
  }
  if (equals < 0) throw refused(text, "no = and no value", EXAMPLES);
  const looked = lookedAt(rest.slice(0, equals).trim(), circuit, text);
  return { text: plain, aim: "equal", looked, target: target(rest.slice(equals + 1).trim(), looked, text) };
}

const refused = (text: string, why: string, hint?: string) => new Refusal(`--until "${text}": ${why}`, hint);

function target(value: string, looked: Looked, text: string): number {
  if (value === "") throw refused(text, "a value is missing behind =", EXAMPLES);
  const unit = unitOf(looked);
  if (unit === "decibel") return decibelsOf(value, text);
  const found = readQuantity(value, unit);
  if (typeof found !== "number") throw refused(text, found.message, found.hint);
  if (unit === "hertz" && !(found > 0)) throw refused(text, "a frequency is above 0 Hz");
  return found;
}

/** `50 dB`, or a ratio. */
function decibelsOf(value: string, text: string): number {
  const number = Number(value.replace(/ ?dB$/, "").replace(",", "."));
  if (!Number.isFinite(number))
    throw refused(text, `"${value}" is no gain`, "write 50 dB, or 316 for a ratio");
  if (value.endsWith("dB")) return number;
  if (number > 0) return 20 * Math.log10(number);
  throw refused(text, "a ratio is above 0", "write -20 dB or 0.1");
}

function lookedAt(words: string, circuit: Circuit, text: string): Looked {
  const gain = /^gain (?:of )?(\S+) at (.+)$/.exec(words);
  if (gain !== null)
    return { kind: "gain", path: path(gain[1]!, circuit, text), hertz: hertz(gain[2]!, text) };
  const end = /^(lower|upper)(?: -3 ?dB)?(?: of)? (\S+)$/.exec(words);
  if (end !== null) {
    return {
      kind: "half power",
      path: path(end[2]!, circuit, text),
      end: end[1] === "lower" ? "lower" : "upper",
    };
  }
  const signal = /^\|(.+)\| at (.+?)(?: from (\S+))?$/.exec(words);
  if (signal !== null) return signalAt(signal, circuit, text);
  if (words.startsWith("gain"))
    throw refused(text, "gain of what, and where?", "write gain playback at 1kHz");
  if (words.startsWith("|"))
    throw refused(text, "the size of a signal needs a frequency", "write |trap| at 52kHz");
  return direct(words, circuit, text);
}

/** Direct voltages and currents. */
function direct(words: string, circuit: Circuit, text: string): Looked {
  const part = /^(\S+) (voltage|current)$/.exec(words);
  if (part !== null) {
    const names = circuit.parts.map(({ name }) => name);
    known(part[1]!, names, "part", text);
    return { kind: "part", part: part[1]!, quantity: part[2] === "voltage" ? "voltage" : "current" };
  }
  const [name = "", figure = ""] = words.split(".");
  const transistor = circuit.parts.find((each) => each.name === name && each.kind === "transistor");
  if (transistor !== undefined && isFigure(figure)) return { kind: "transistor", part: name, figure };
  if (transistor !== undefined && netNamed(circuit, words) < 0) {
    const all = [...TRANSISTOR_FIGURES, "e", "b", "c"];
    throw refused(text, `${name} has no ${figure || "such thing"} to look at`, `it has ${all.join(", ")}`);
  }
  if (isFigure(figure)) {
    const names = circuit.parts.filter(({ kind }) => kind === "transistor").map((each) => each.name);
    known(name, names, "transistor", text);
  }
  return { kind: "voltage", ...between(words, circuit, text) };
}

const isFigure = (word: string): word is TransistorFigure =>
  (TRANSISTOR_FIGURES as readonly string[]).includes(word);

/** `A` or `A minus B`. */
function between(words: string, circuit: Circuit, text: string): { net: number; minus: number } {
  const [plus = "", minus, ...more] = words.split(" minus ");
  if (more.length > 0 || /\s/.test(plus) || /\s/.test(minus ?? "")) {
    throw refused(text, `"${words}" is nothing to look at`, EXAMPLES);
  }
  return { net: net(plus, circuit, text), minus: minus === undefined ? 0 : net(minus, circuit, text) };
}

function net(name: string, circuit: Circuit, text: string): number {
  const found = netNamed(circuit, name);
  if (found >= 0) return found;
  const names = circuit.nets.flatMap((each) => [each.name, ...each.points]);
  const near = nearestWord(name, names);
  throw refused(
    text,
    `there is no net or pin ${name}`,
    near === undefined ? EXAMPLES : `did you mean ${near}?`,
  );
}

function known(name: string, among: readonly string[], what: string, text: string): void {
  if (among.includes(name)) return;
  const near = nearestWord(name, among);
  const hint =
    near === undefined ? `the ${what}s are ${among.slice(0, 12).join(", ")}` : `did you mean ${near}?`;
  throw refused(text, `there is no ${what} ${name}`, among.length === 0 ? undefined : hint);
}

function path(name: string, circuit: Circuit, text: string): string {
  known(
    name,
    circuit.paths.map((each) => each.name),
    "path",
    text,
  );
  return name;
}

function hertz(value: string, text: string): Frequency {
  if (value === "oscillation") return value;
  const found = readQuantity(value, "hertz");
  if (typeof found !== "number") throw refused(text, found.message, found.hint);
  if (!(found > 0)) throw refused(text, "a frequency is above 0 Hz");
  return found;
}

function signalAt(
  [, words = "", at = "", from]: readonly (string | undefined)[],
  circuit: Circuit,
  text: string,
): Looked {
  const sources = sourcesIn(circuit);
  const [only, second] = sources;
  if (only === undefined)
    throw refused(
      text,
      "the circuit has no generator and no head",
      "add a line such as: generator G1 1mV in to chassis",
    );
  if (from === undefined && second !== undefined) {
    throw refused(text, "the circuit has several sources", `say which: from ${sources.join(", or from ")}`);
  }
  if (from !== undefined) known(from, sources, "source", text);
  return {
    kind: "signal",
    ...between(words.trim(), circuit, text),
    hertz: hertz(at, text),
    from: from ?? only,
  };
}
