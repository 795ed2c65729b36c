import type { PowerCurve } from "../bench/power/results.ts";
import { type PowerConditions, power, type Variant } from "../bench/power.ts";
import type { Answer } from "../bench/run.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { readSetting } from "../language/index.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { powerCsv } from "../report/power-csv.ts";
import { powerSvg } from "../report/power-svg.ts";
import { powerTable } from "../report/power-table.ts";
import { type Arguments, has, listGiven, valueGiven, valuesGiven } from "./arguments.ts";
import { optional, readAmbient, readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { frequency } from "./frequencies.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { readRange, readWhole, without } from "./ranges.ts";
import { Refusal, readEach, readTogether } from "./refusal.ts";
import { noPathThere, readPaths } from "./response.ts";
import { settle } from "./settle.ts";

const HERTZ = 1000;
const POINTS = 12;
const MOST_CURVES = 20;

/** `preprobe power`: output power, gain and distortion against the level of a tone. */
export async function powerCommand(given: Arguments, environment: Environment): Promise<number> {
  const to = destination(given, "power");
  const netlist = openCircuit(fileOperand(given, "power"), given, environment);
  const { circuit } = netlist;
  const conditions = read(given, circuit);
  const quiet = has(given, "quiet");
  const { results, failures } = await run(circuit, conditions, quiet, environment);
  if (results.length + failures.length === 0) throw noPathThere(circuit, conditions.paths ?? []);
  const phrases = conditionPhrases(circuit, conditions, results);
  return settle(
    { command: "power", netlist, results, failures, to, quiet },
    {
      table: () => powerTable(circuit, results, phrases, environment),
      csv: () => powerCsv(results),
      files: { ".svg": () => powerSvg(circuit, results, phrases) },
    },
    environment,
  );
}

function read(given: Arguments, circuit: Circuit): PowerConditions {
  const { ambients, each, levels, conditions, paths, hertz } = readTogether({
    conditions: () => readConditions(without(given, "ambient"), circuit),
    ambients: () => readEach(listGiven(given, "ambient"), readAmbient),
    paths: () => usualPaths(given, circuit),
    hertz: () => optional(valueGiven(given, "tone"), (text) => frequency("tone", text)) ?? HERTZ,
    levels: () => readLevels(given),
    each: () => readVariants(given, circuit),
  });
  const [only, second] = ambients;
  const variants = combinations(each, second === undefined ? [] : ambients);
  if (variants.length > MOST_CURVES)
    throw new Refusal(`${variants.length} curves are too many to look at`, `up to ${MOST_CURVES} are drawn`);
  return {
    ...conditions,
    ...(only !== undefined && second === undefined && { ambientCelsius: only }),
    paths,
    hertz,
    ...(levels && { levels }),
    variants,
  };
}

/** Those asked for, else those that end in a loudspeaker, else all. */
function usualPaths(given: Arguments, circuit: Circuit): readonly string[] {
  const chosen = readPaths(given, circuit);
  if (listGiven(given, "path").length > 0) return chosen;
  const speakers = circuit.parts.filter(({ kind }) => kind === "loudspeaker");
  const heard = circuit.paths.filter(({ to }) =>
    "part" in to
      ? speakers.some(({ name }) => name === to.part)
      : speakers.some(({ pins }) => pins.some(({ net }) => net === to.net && net > 0)),
  );
  return heard.length > 0 ? heard.map(({ name }) => name) : chosen;
}

function readLevels(given: Arguments): readonly number[] | undefined {
  const text = valueGiven(given, "emf");
  const count = readWhole(given, "points", POINTS, [2, 200]);
  if (text === undefined) {
    if (valueGiven(given, "points") === undefined) return undefined;
    throw new Refusal("--points counts the levels of --emf", "for example --emf 1mV..50mV --points 20");
  }
  const { from, to } = readRange("emf", text, "volt");
  if (!(from > 0))
    throw new Refusal(`--emf ${text}: a signal has more than 0 V`, "for example --emf 1mV..50mV");
  if (from === to) return [from];
  return Array.from({ length: count }, (_, k) => from * (to / from) ** (k / (count - 1)));
}

/** `P2=30%,40%,50%`: a curve each. */
function readVariants(given: Arguments, circuit: Circuit): readonly (readonly Variant[])[] {
  return readEach(valuesGiven(given, "each"), (text) => {
    const equals = text.indexOf("=");
    const values = text.slice(equals + 1).split(",");
    if (equals <= 0 || values.some((value) => value.trim() === ""))
      throw new Refusal(`--each ${text}: not a list of settings`, "write --each P2=30%,40%,50%");
    const name = text.slice(0, equals).trim();
    return readEach(values, (value) => {
      const set = readSetting(circuit, `${name}=${value.trim()}`);
      if ("message" in set) throw new Refusal(`--each ${text}: ${set.message}`, set.hint);
      return { name: `${name} ${value.trim()}`, set };
    });
  });
}

/** Each with each. */
function combinations(
  lists: readonly (readonly Variant[])[],
  ambients: readonly number[],
): readonly Variant[] {
  const temperatures = ambients.map((celsius) => ({
    name: `${celsius} °C`,
    set: [],
    ambientCelsius: celsius,
  }));
  const all: readonly (readonly Variant[])[] = ambients.length > 0 ? [...lists, temperatures] : lists;
  if (all.length === 0) return [];
  return all.reduce((left, right) =>
    left.flatMap((a) =>
      right.map((b) => ({ ...a, ...b, name: `${a.name}, ${b.name}`, set: [...a.set, ...b.set] })),
    ),
  );
}

/** Runs to the end, or until interrupted; shows how far it has come. */
async function run(
  circuit: Circuit,
  conditions: PowerConditions,
  quiet: boolean,
  { progress, pause, interrupted }: Environment,
): Promise<Answer<PowerCurve>> {
  const steps = power(circuit, conditions);
  let next = steps.next();
  while (next.done !== true) {
    const { mode, path, variant, share } = next.value;
    const of = variant === "" ? path : `${path}, ${variant}`;
    if (!quiet) progress?.(`${mode}: ${of}: ${Math.round(100 * share)} % of the levels`);
    await pause?.();
    next = steps.next(interrupted?.() ?? false);
  }
  progress?.("");
  return next.value;
}
