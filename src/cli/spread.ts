import type { Range } from "../bench/spread/variables.ts";
import { type SpreadConditions, spread } from "../bench/spread.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { quantityText } from "../report/quantities.ts";
import { spreadCsv } from "../report/spread-csv.ts";
import { spreadSvg } from "../report/spread-svg.ts";
import { spreadTable } from "../report/spread-table.ts";
import { type Arguments, has } from "./arguments.ts";
import { readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { readAmbientRange, readBatteries, readWhole, without } from "./ranges.ts";
import { readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";

const TRIALS = 2000;
const FEWEST = 40;
const MOST = 1_000_000;
const LARGEST_SEED = 2 ** 32 - 1;

/** `preprobe spread`: what is to be expected of many specimens of a circuit. */
export function spreadCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "spread");
  const netlist = openCircuit(fileOperand(given, "spread"), given, environment);
  const { circuit } = netlist;
  const quiet = has(given, "quiet");
  const conditions = { ...read(given, circuit), ...(!quiet && { progress: progressTo(environment, given) }) };
  const { results, failures } = spread(circuit, conditions);
  environment.progress?.("");
  const phrases = phrasesOf(circuit, conditions, results);
  const run = { command: "spread", netlist, results, failures, to, quiet };
  return settle(
    run,
    {
      table: () => spreadTable(circuit, results, phrases, environment),
      csv: () => spreadCsv(results),
      files: { ".svg": () => spreadSvg(circuit, results, phrases) },
    },
    environment,
  );
}

function read(given: Arguments, circuit: Circuit): SpreadConditions {
  const { conditions, trials, seed, batteries, ambient } = readTogether({
    conditions: () => readConditions(without(given, "ambient"), circuit),
    trials: () => readTrials(given),
    seed: () => readWhole(given, "seed", 1, [0, LARGEST_SEED]),
    batteries: () => readBatteries(given, circuit),
    ambient: () => readAmbientRange(given),
  });
  return {
    ...conditions,
    trials,
    seed,
    batteries,
    ...(ambient !== undefined && { ambient }),
    ...(has(given, "aged") && { aged: true }),
  };
}

const readTrials = (given: Arguments) => readWhole(given, "trials", TRIALS, [FEWEST, MOST]);

function progressTo(environment: Environment, given: Arguments) {
  const trials = readTrials(given);
  return (mode: string, done: number) => environment.progress?.(`${mode}: ${done} of ${trials} specimens`);
}

/** The conditions for titles: ranges instead of the single values. */
function phrasesOf(
  circuit: Circuit,
  conditions: SpreadConditions,
  results: readonly { readonly mode: string }[],
): readonly string[] {
  const { ambient, batteries = {}, aged } = conditions;
  const range = ({ from, to }: Range, unit: string) =>
    `${quantityText(from, unit)} to ${quantityText(to, unit)}`;
  const single = conditionPhrases(circuit, conditions, results);
  const kept = single.filter(
    (phrase) =>
      !(ambient !== undefined && phrase.startsWith("ambient ")) &&
      !Object.keys(batteries).some((name) => phrase.startsWith(`${name} `)),
  );
  return [
    ...kept,
    ...Object.entries(batteries).map(([name, each]) => `${name} ${range(each, "volt")}`),
    ...(ambient === undefined ? [] : [`ambient ${range(ambient, "celsius")}`]),
    ...(aged ? ["aged parts"] : []),
  ];
}
