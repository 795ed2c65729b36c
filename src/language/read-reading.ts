/** Readings as text: `play: T1.c = -3.2 V`, and what else is measured besides a voltage against chassis. */
import type { Circuit } from "../circuit/circuit.ts";
import { modesOf } from "../circuit/conditions.ts";
import type { Look, TakenReading } from "../circuit/look.ts";
import { nearestWord } from "./nearest.ts";
import { netNamed } from "./net-named.ts";
import { type Refused, readQuantity } from "./setting.ts";
import type { AnyUnit } from "./units.ts";

const EXAMPLES =
  'write it like play:T1.c=-3.2V, "play: R7 voltage = 1.2 V", play:B1.current=12mA, "play: gain playback at 1kHz = 50 dB", or "play off: T1.c = 4k7" for ohms to chassis';

/** What a reading is of, before its value is known. */
interface Sought {
  readonly look: Look;
  readonly unsigned?: true;
}

/** `MODE: POINT = VALUE`; the mode may be left out where there is one only. Refuses with a reason; never throws. */
export function readReading(circuit: Circuit, text: string): TakenReading | Refused {
  const [, mode, point = "", value = ""] = /^(?:([^:=]+):)?\s*([^:=]+?)\s*=\s*(.+)$/.exec(text.trim()) ?? [];
  if (point === "") return { message: "this is no reading", hint: EXAMPLES };
  const known = readingMode(circuit, mode?.trim() ?? "");
  return typeof known === "string" ? readingAt(circuit, known, point, value) : known;
}

/** A mode's name, or `MODE off`, batteries out; empty where the circuit has one mode only. */
export function readingMode(circuit: Circuit, text: string): string | Refused {
  const names = modesOf(circuit).map(({ name }) => name);
  const [, bare = "", off = ""] = /^(.*?)(?:^|\s+)(off)?$/.exec(text) ?? [undefined, text];
  const name = bare === "" && (names.length === 1 || off !== "") ? names[0]! : bare;
  if (name === "") {
    const hint = `write the mode in front: ${names.map((each) => `${each}:`).join(", or ")}`;
    return { message: "in which mode?", hint };
  }
  if (names.includes(name)) return off === "" ? name : `${name} off`;
  const near = nearestWord(name, names);
  return {
    message: `the netlist has no mode "${name}"`,
    hint: near ? `did you mean ${near}?` : `the modes are ${names.join(", ")}`,
  };
}

/** A reading at a point, in a mode that `readingMode` gave; a true minus and a decimal comma are read as well. */
export function readingAt(
  circuit: Circuit,
  mode: string,
  pointText: string,
  valueText: string,
): TakenReading | Refused {
  const point = pointText.trim().replace(/\s+/g, " ");
  const sought = soughtAt(circuit, mode, point);
  if ("message" in sought) return sought;
  const value = takenValue(sought.look, valueText);
  return typeof value === "number" ? { mode, point, ...sought, value } : value;
}

function soughtAt(circuit: Circuit, mode: string, point: string): Sought | Refused {
  const gain = /^gain (?:of )?(\S+) at (.+)$/.exec(point);
  if (gain !== null) return gainAt(circuit, mode, gain[1]!, gain[2]!);
  if (mode.endsWith(" off")) {
    const net = netMeasured(circuit, point);
    return typeof net === "number" ? { look: { kind: "resistance", net } } : net;
  }
  return currentAt(circuit, point) ?? dropOver(circuit, point) ?? voltageAt(circuit, point);
}

function gainAt(circuit: Circuit, mode: string, path: string, at: string): Sought | Refused {
  const names = circuit.paths.map(({ name }) => name);
  const found = circuit.paths.find(({ name }) => name === path);
  if (found === undefined) return unknown("path", path, names);
  if (found.mode !== undefined && found.mode !== mode)
    return { message: `path ${path} is followed in mode ${found.mode}, not in ${mode}` };
  const hertz = readQuantity(at, "hertz");
  if (typeof hertz !== "number") return hertz;
  if (hertz > 0) return { look: { kind: "gain", path, hertz } };
  return { message: `"${at}" is no frequency of a gain`, hint: "write: gain playback at 1kHz" };
}

/** `B1 current`, what a battery gives; of other parts, and of `T1.ic`, the size alone. */
function currentAt(circuit: Circuit, point: string): Sought | undefined {
  const [, name, what = ""] = /^(\S+?)[ .](current|amps|ic|ib|ie)$/.exec(point) ?? [];
  const part = circuit.parts.findIndex((each) => each.name === name);
  if (part < 0) return undefined;
  const { kind, pins } = circuit.parts[part]!;
  const look = (pin: number) => ({ kind: "current", part, pin }) as const;
  if (kind === "transistor") return { look: look(what === "ie" ? 0 : what === "ib" ? 1 : 2), unsigned: true };
  if (what.startsWith("i") || pins.length === 0) return undefined;
  // what a battery gives flows into its minus
  if (kind === "battery") return { look: look(pins.findIndex((pin) => pin.name === "minus")) };
  return { look: look(0), unsigned: true };
}

function dropOver(circuit: Circuit, point: string): Sought | undefined {
  const [, name] = /^(\S+?)[ .](?:voltage|volts)$/.exec(point) ?? [];
  const part = circuit.parts.find((each) => each.name === name);
  if (part === undefined || part.pins.length < 2) return undefined;
  const [first, last] = [part.pins[0]!.net, part.pins.at(-1)!.net];
  return { look: { kind: "voltage", net: first, minus: last }, unsigned: true };
}

function voltageAt(circuit: Circuit, point: string): Sought | Refused {
  const [plus = "", other, ...more] = point.split(" minus ");
  if (more.length > 0) return { message: `"${point}" is nothing to measure`, hint: EXAMPLES };
  const net = netMeasured(circuit, plus);
  const minus = other === undefined ? 0 : netMeasured(circuit, other);
  if (typeof net !== "number") return net;
  return typeof minus === "number" ? { look: { kind: "voltage", net, minus } } : minus;
}

function netMeasured(circuit: Circuit, name: string): number | Refused {
  const found = netNamed(circuit, name);
  if (found > 0) return found;
  if (found === 0) return { message: `${name} is chassis, from which all is measured`, hint: "leave it out" };
  const all = circuit.nets.flatMap((net) => [net.name, ...net.points]);
  return unknown("net or pin", name, all);
}

function unknown(what: string, name: string, among: readonly string[]): Refused {
  const near = nearestWord(name, among);
  return {
    message: `there is no ${what} "${name}"`,
    hint: near === undefined ? EXAMPLES : `did you mean ${near}?`,
  };
}

const UNITS = { voltage: "volt", current: "ampere", resistance: "ohm" } as const satisfies Record<
  Exclude<Look["kind"], "gain">,
  AnyUnit
>;

function takenValue({ kind }: Look, text: string): number | Refused {
  const plain = text.replaceAll("\u2212", "-").trim();
  if (kind === "gain") return decibels(plain);
  // amperes at the bench are milliamperes: a bare number would be read a thousandfold too large
  if (kind === "current" && /^[-+\d.,]+$/.test(plain))
    return { message: `"${text.trim()}" has no unit`, hint: `did you mean ${plain}mA?` };
  return readQuantity(plain, UNITS[kind]);
}

function decibels(text: string): number | Refused {
  const number = Number(text.replace(/ ?dB$/, "").replace(",", ".") || Number.NaN);
  return Number.isFinite(number) ? number : { message: `"${text}" is no gain`, hint: "write 50 dB" };
}
