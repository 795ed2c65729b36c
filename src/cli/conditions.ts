import type { Conditions, Meter } from "../bench/conditions.ts";
import type { Circuit, PartState } from "../circuit/circuit.ts";
import { modesOf } from "../circuit/conditions.ts";
import { COLDEST_AMBIENT, WARMEST_AMBIENT } from "../devices/constants.ts";
import { nearestWord, readQuantity, readSetting } from "../language/index.ts";
import type { AnyUnit } from "../language/units.ts";
import { type Arguments, has, listGiven, valueGiven, valuesGiven } from "./arguments.ts";
import { Refusal, readEach, readTogether } from "./refusal.ts";

/** What the options change of the netlist. */
export function readConditions(given: Arguments, circuit: Circuit): Conditions {
  const { modes, set, ambient } = readTogether({
    modes: () => known(listGiven(given, "mode"), "mode", namesOf(modesOf(circuit))),
    set: () => readEach(valuesGiven(given, "set"), (text) => setting(circuit, text)).flat(),
    ambient: () => optional(valueGiven(given, "ambient"), readAmbient),
  });
  return {
    ...(modes.length > 0 && { modes }),
    ...(set.length > 0 && { set }),
    ...(ambient !== undefined && { ambientCelsius: ambient }),
    ...(has(given, "isothermal") && { isothermal: true }),
  };
}

/** What `reader` makes of an option's text, if it was given. */
export const optional = <T>(text: string | undefined, reader: (text: string) => T): T | undefined =>
  text === undefined ? undefined : reader(text);

const namesOf = (list: readonly { readonly name: string }[]) => list.map(({ name }) => name);

/** The names, all of which must be among `among`. */
export function known(names: readonly string[], what: string, among: readonly string[]): readonly string[] {
  return readEach([...new Set(names)], (name) => {
    if (among.includes(name)) return name;
    const near = nearestWord(name, among);
    const hint = near === undefined ? there(what, among) : `did you mean ${near}?`;
    throw new Refusal(`the netlist has no ${what} "${name}"`, hint);
  });
}

function there(what: string, names: readonly string[]): string | undefined {
  if (names.length < 2) return names[0] && `the only ${what} is ${names[0]}`;
  return `the ${what}s are ${names.join(", ")}`;
}

function setting(circuit: Circuit, text: string): readonly PartState[] {
  const found = readSetting(circuit, text);
  if ("message" in found) throw new Refusal(`--set ${text}: ${found.message}`, found.hint);
  return found;
}

/** A value of an option in SI units. */
export function quantity(option: string, text: string, unit: AnyUnit): number {
  const found = readQuantity(text, unit);
  if (typeof found !== "number") throw new Refusal(`--${option} ${text}: ${found.message}`, found.hint);
  return found;
}

/** `35C`, where circuits work. */
export function readAmbient(text: string): number {
  const celsius = quantity("ambient", text, "celsius");
  if (celsius < COLDEST_AMBIENT || celsius > WARMEST_AMBIENT) {
    throw new Refusal(
      `--ambient ${text}: no circuit works there`,
      `give a temperature from ${COLDEST_AMBIENT} to ${WARMEST_AMBIENT} °C`,
    );
  }
  return celsius;
}

/** A meter of less than this, Ω, is one whose `k/V` was left off. */
const LEAST_METER = 100;

/** `20k/V` is a meter of so many ohms per volt of its range, `10M` one of that resistance. */
export function readMeter(given: Arguments): Meter | undefined {
  const text = valueGiven(given, "meter");
  if (text === undefined) return undefined;
  const perVolt = /^(.*?)\s*\/\s*V$/i.exec(text)?.[1];
  const ohms = quantity("meter", perVolt ?? text, "ohm");
  if (!(ohms > 0))
    throw new Refusal(`--meter ${text}: a meter has more than 0 Ω`, "for example 20k/V or 10M");
  if (perVolt === undefined && /^\d+$/.test(text) && ohms < LEAST_METER) {
    throw new Refusal(`--meter ${text}: no voltmeter has only ${ohms} Ω`, `did you mean ${text}k/V?`);
  }
  return perVolt === undefined ? { ohms } : { ohmsPerVolt: ohms };
}
