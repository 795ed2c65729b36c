/** Readings for `suspects`: from the netlist, from options and from files; what cannot be is told all at once. */
import { impossibleReadings } from "../bench/suspects/impossible.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { statedReadings, type TakenReading } from "../circuit/look.ts";
import { type Refused, readReading } from "../language/index.ts";
import { type Arguments, valuesGiven } from "./arguments.ts";
import type { Environment } from "./environment.ts";
import { readingsFrom } from "./readings-file.ts";
import { Refusal, refuseAll } from "./refusal.ts";

const NONE =
  "give --reading play:T1.c=-3.2V, --readings FILE, or a line in the netlist: reading play T1.c -3.2 V";

/** What was read, or why not. */
export type Tried = TakenReading | Refusal;

/** With the place of what was refused in front. */
export const refusalAt = (where: string, { message, hint }: Refused): Refusal =>
  new Refusal(`${where}: ${message}`, hint);

/**
 * All readings of the modes asked for, each point once in a mode: files over statements, options over both. Refuses
 * what cannot be read, then what no circuit can show.
 */
export function allReadings(
  given: Arguments,
  circuit: Circuit,
  modes: readonly string[],
  conditions: Parameters<typeof impossibleReadings>[3] & { readonly accuracy: number },
  environment: Environment,
): readonly TakenReading[] {
  const all = sound([
    ...statedReadings(circuit),
    ...valuesGiven(given, "readings").flatMap((file) => readingsFrom(file, circuit, environment)),
    ...valuesGiven(given, "reading").map((text) => option(text, circuit)),
  ]).filter(({ mode }) => modes.includes(mode.replace(/ off$/, "")));
  const last = new Map(all.map((reading) => [`${reading.mode} ${JSON.stringify(reading.look)}`, reading]));
  const readings = [...last.values()];
  if (readings.length === 0) throw new Refusal("suspects needs at least one reading", NONE);
  const wrong = impossibleReadings(circuit, readings, conditions.accuracy, conditions);
  refuseAll(wrong.map(({ message, hint }) => new Refusal(message, hint)));
  return readings;
}

function option(text: string, circuit: Circuit): Tried {
  const taken = readReading(circuit, text);
  return "mode" in taken ? taken : refusalAt(`--reading ${text}`, taken);
}

function sound(tried: readonly Tried[]): readonly TakenReading[] {
  refuseAll(tried.filter((each) => each instanceof Refusal));
  return tried.flatMap((each) => (each instanceof Refusal ? [] : [each]));
}
