/** Readings for `suspects`: from the netlist, from options and from files. */
import type { Reading } from "../bench/suspects/looks.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { modesOf } from "../circuit/conditions.ts";
import { nearestWord, readQuantity } from "../language/index.ts";
import type { AnyUnit } from "../language/units.ts";
import { kindOf } from "../parts/index.ts";
import { Refusal } from "./refusal.ts";

const EXAMPLES =
  'write it like play:T1.c=-3.2V, "play: R7 voltage = 1.2 V", play:B1.current=12mA, "play: gain playback at 1kHz = 50 dB", or "play off: T1.c = 4k7" for ohms to chassis';

/** `MODE: POINT = VALUE`; the mode may be left out where there is one only. */
export function readReading(text: string, circuit: Circuit, where = `--reading ${text}`): Reading {
  const plain = text.replaceAll("\u2212", "-").trim();
  const [, modeText, looked = "", valueText = ""] =
    /^(?:([^:=]+):)?\s*([^:=]+?)\s*=\s*(.+)$/.exec(plain) ?? [];
  if (looked === "") throw new Refusal(`${where}: this is no reading`, EXAMPLES);
  const mode = modeNamed(modeText?.trim(), circuit, where);
  return readingAt(mode, looked, valueText, circuit, where);
}

/** A mode's name, or `MODE off`, batteries out. */
function modeNamed(text: string | undefined, circuit: Circuit, where: string): string {
  const names = modesOf(circuit).map(({ name }) => name);
  const off = text !== undefined && /(^|\s)off$/.test(text);
  const bare = off ? text.replace(/\s*off$/, "") : text;
  const name = bare === undefined || bare === "" ? (names.length === 1 || off ? names[0]! : undefined) : bare;
  if (name === undefined) {
    throw new Refusal(
      `${where}: in which mode?`,
      `write the mode in front: ${names.map((each) => `${each}:`).join(", or ")}`,
    );
  }
  if (!names.includes(name)) {
    const near = nearestWord(name, names);
    throw new Refusal(
      `${where}: the netlist has no mode "${name}"`,
      near ? `did you mean ${near}?` : `the modes are ${names.join(", ")}`,
    );
  }
  return off ? `${name} off` : name;
}

/** A reading of one point, its value still text. */
export function readingAt(
  mode: string,
  looked: string,
  valueText: string,
  circuit: Circuit,
  where: string,
): Reading {
  const point = looked.replace(/\s+/g, " ");
  const value = (unit: AnyUnit) => quantity(valueText, unit, where);
  const gain = /^gain (?:of )?(\S+) at (.+)$/.exec(point);
  if (gain !== null) {
    const names = circuit.paths.map(({ name }) => name);
    if (!names.includes(gain[1]!)) throw unknown("path", gain[1]!, names, where);
    const look = { kind: "gain" as const, path: gain[1]!, hertz: quantity(gain[2]!, "hertz", where) };
    return { mode, point, look, value: decibels(valueText, where) };
  }
  if (mode.endsWith(" off")) {
    return {
      mode,
      point,
      look: { kind: "resistance", net: netNamed(point, circuit, where) },
      value: value("ohm"),
    };
  }
  const current = currentAt(point, circuit);
  if (current !== undefined) {
    const { unsigned, ...place } = current;
    return {
      mode,
      point,
      look: { kind: "current", ...place },
      value: value("ampere"),
      ...(unsigned && { unsigned }),
    };
  }
  const drop = /^(\S+)[ .](?:voltage|volts)$/.exec(point);
  const part = circuit.parts.find(({ name }) => name === drop?.[1]);
  if (part !== undefined) {
    const [first, last] = [part.pins[0]!.net, part.pins.at(-1)!.net];
    return {
      mode,
      point,
      look: { kind: "voltage", net: first, minus: last },
      value: value("volt"),
      unsigned: true,
    };
  }
  const [plus = "", minus, ...more] = point.split(" minus ");
  if (more.length > 0) throw new Refusal(`${where}: "${point}" is nothing to measure`, EXAMPLES);
  const net = netNamed(plus, circuit, where);
  const other = minus === undefined ? 0 : netNamed(minus, circuit, where);
  return { mode, point, look: { kind: "voltage", net, minus: other }, value: value("volt") };
}

/** `B1 current`, what a battery gives; of other parts, and of `T1.ic`, the size alone. */
function currentAt(
  point: string,
  circuit: Circuit,
): { part: number; pin: number; unsigned?: true } | undefined {
  const [, name, what] = /^(\S+?)[ .](current|amps|ic|ib|ie)$/.exec(point) ?? [];
  const part = circuit.parts.findIndex((each) => each.name === name);
  if (part < 0) return undefined;
  const { kind } = circuit.parts[part]!;
  // what a battery gives flows into its minus
  if (what === "current" || what === "amps")
    return kind === "battery" ? { part, pin: 1 } : { part, pin: 0, unsigned: true };
  if (kind !== "transistor") return undefined;
  return { part, pin: ["ie", "ib", "ic"].indexOf(what!), unsigned: true };
}

function quantity(text: string, unit: AnyUnit, where: string): number {
  const found = readQuantity(text.trim(), unit);
  if (typeof found !== "number") throw new Refusal(`${where}: ${found.message}`, found.hint);
  return found;
}

function decibels(text: string, where: string): number {
  const number = Number(text.trim().replace(/ ?dB$/, "").replace(",", "."));
  if (Number.isFinite(number)) return number;
  throw new Refusal(`${where}: "${text}" is no gain`, "write 50 dB");
}

function netNamed(name: string, circuit: Circuit, where: string): number {
  const [owner = "", pin = ""] = name.split(".");
  const part = circuit.parts.find((each) => each.name === owner);
  const canonical = `${owner}.${part === undefined ? pin : (kindOf(part).aliases?.[pin] ?? pin)}`;
  const found = circuit.nets.findIndex(
    (net) => net.name === name || net.points.includes(name) || net.points.includes(canonical),
  );
  if (found > 0) return found;
  if (found === 0)
    throw new Refusal(`${where}: ${name} is chassis, from which all is measured`, "leave it out");
  throw unknown(
    "net or pin",
    name,
    circuit.nets.flatMap((net) => [net.name, ...net.points]),
    where,
  );
}

function unknown(what: string, name: string, among: readonly string[], where: string): Refusal {
  const near = nearestWord(name, among);
  return new Refusal(
    `${where}: there is no ${what} "${name}"`,
    near === undefined ? EXAMPLES : `did you mean ${near}?`,
  );
}

/** The `reading` statements of the netlist, of the modes asked for. */
export const readingsOf = (circuit: Circuit, modes: readonly string[]): readonly Reading[] =>
  circuit.readings
    .filter(({ mode }) => modes.includes(mode))
    .map(({ mode, point, net, volts }) => ({
      mode,
      point,
      look: { kind: "voltage", net, minus: 0 },
      value: volts,
    }));
