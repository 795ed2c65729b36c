import type { Range } from "../bench/spread/variables.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { COLDEST_AMBIENT, WARMEST_AMBIENT } from "../devices/constants.ts";
import { nearestWord } from "../language/index.ts";
import type { Unit } from "../parts/kind.ts";
import { type Arguments, valueGiven, valuesGiven } from "./arguments.ts";
import { quantity } from "./conditions.ts";
import { Refusal, readTogether } from "./refusal.ts";

/** `4.2V..6.3V`: from one value to a greater one; a single value is a range of no width. */
export function readRange(option: string, text: string, unit: Unit): Range {
  const [from = "", to, ...more] = text.split("..");
  if (more.length > 0 || from.trim() === "" || to?.trim() === "") {
    throw new Refusal(`--${option} ${text}: a range is one value, two dots, and another`, EXAMPLES[option]);
  }
  if (to === undefined) {
    const only = quantity(option, from, unit);
    return { from: only, to: only };
  }
  const range = readTogether({
    from: () => quantity(option, from, unit),
    to: () => quantity(option, to, unit),
  });
  if (range.from <= range.to) return range;
  throw new Refusal(`--${option} ${text}: the range goes down`, `exchange them: --${option} ${to}..${from}`);
}

const EXAMPLES: Readonly<Record<string, string>> = {
  battery: "for example --battery 4.2V..6.3V",
  ambient: "for example --ambient 10C..35C",
  load: "for example --load 0..2mNm",
  emf: "for example --emf 1mV..50mV",
};

/** Ranges of EMF by battery: `4.2V..6.3V` where there is one battery, else `B1=4.2V..6.3V`. */
export function readBatteries(given: Arguments, circuit: Circuit): Readonly<Record<string, Range>> {
  const batteries = circuit.parts.filter(({ kind }) => kind === "battery").map(({ name }) => name);
  const ranges: Record<string, Range> = {};
  for (const text of valuesGiven(given, "battery")) {
    const equals = text.indexOf("=");
    const name = equals < 0 ? theBattery(text, batteries) : text.slice(0, equals).trim();
    if (!batteries.includes(name)) {
      const near = nearestWord(name, batteries);
      throw new Refusal(
        `--battery ${text}: there is no battery ${name}`,
        near === undefined ? `the batteries are ${batteries.join(", ")}` : `did you mean ${near}?`,
      );
    }
    ranges[name] = readRange("battery", text.slice(equals + 1), "volt");
  }
  return ranges;
}

function theBattery(text: string, batteries: readonly string[]): string {
  const [only, second] = batteries;
  if (only === undefined) throw new Refusal(`--battery ${text}: the circuit has no battery`);
  if (second === undefined) return only;
  throw new Refusal(
    `--battery ${text}: the circuit has several batteries`,
    `say which: --battery ${only}=${text}`,
  );
}

/** The range of ambient temperature, °C. */
export function readAmbientRange(given: Arguments): Range | undefined {
  const text = valueGiven(given, "ambient");
  if (text === undefined) return undefined;
  const range = readRange("ambient", text, "celsius");
  if (range.from >= COLDEST_AMBIENT && range.to <= WARMEST_AMBIENT) return range;
  throw new Refusal(
    `--ambient ${text}: no circuit works there`,
    `give temperatures from ${COLDEST_AMBIENT} to ${WARMEST_AMBIENT} °C`,
  );
}

/** A whole number between two others. */
export function readWhole(
  given: Arguments,
  option: string,
  usual: number,
  [least, greatest]: readonly [number, number],
): number {
  const text = valueGiven(given, option);
  if (text === undefined) return usual;
  const number = Number(text);
  if (Number.isInteger(number) && number >= least && number <= greatest) return number;
  throw new Refusal(`--${option} ${text}: give a whole number from ${least} to ${greatest}`);
}

/** The same arguments without an option that another reader would take otherwise. */
export const without = (given: Arguments, option: string): Arguments => ({
  ...given,
  given: new Map([...given.given].filter(([name]) => name !== option)),
});
