import type { RegulationCurve } from "../bench/regulation/results.ts";
import { type RegulationConditions, regulation } from "../bench/regulation.ts";
import type { Answer } from "../bench/run.ts";
import type { Range } from "../bench/spread/variables.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { regulationCsv } from "../report/regulation-csv.ts";
import { regulationSvg } from "../report/regulation-svg.ts";
import { regulationTable } from "../report/regulation-table.ts";
import { type Arguments, has, valueGiven } from "./arguments.ts";
import { optional, readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { readBatteries, readRange, readWhole } from "./ranges.ts";
import { Refusal, readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";

const POINTS = 7;

/** `preprobe regulation`: speed of a governed motor against battery voltage and load. */
export async function regulationCommand(given: Arguments, environment: Environment): Promise<number> {
  const to = destination(given, "regulation");
  const netlist = openCircuit(fileOperand(given, "regulation"), given, environment);
  const { circuit } = netlist;
  const conditions = read(given, circuit);
  const quiet = has(given, "quiet");
  const { results, failures } = await run(circuit, conditions, quiet, environment);
  if (results.length + failures.length === 0) {
    throw new Refusal(
      "nothing is regulated in the modes looked at",
      "it takes a motor, and a governor that the mode does not hold open or closed",
    );
  }
  const phrases = conditionPhrases(circuit, conditions, results);
  return settle(
    { command: "regulation", netlist, results, failures, to, quiet },
    {
      table: () => regulationTable(circuit, results, phrases, environment),
      csv: () => regulationCsv(results),
      files: { ".svg": () => regulationSvg(circuit, results, phrases) },
    },
    environment,
  );
}

function read(given: Arguments, circuit: Circuit): RegulationConditions {
  const { conditions, points, batteries, load } = readTogether({
    conditions: () => readConditions(given, circuit),
    points: () => readWhole(given, "points", POINTS, [2, 200]),
    batteries: () => readBatteries(given, circuit),
    load: () => optional(valueGiven(given, "load"), readLoad),
  });
  return { ...conditions, points, batteries, ...(load !== undefined && { load }) };
}

function readLoad(text: string): Range {
  // the unit may stand behind the second value only
  const load = text.replace(/^([\d.,]+)\.\.([\d.,]+)(.+)$/, "$1$3..$2$3");
  const range = readRange("load", load, "torque");
  if (range.from >= 0) return range;
  throw new Refusal(`--load ${text}: a load is not negative`, "it is friction, whatever the direction");
}

const STEPS = 200;
const SHOWN_EVERY_MS = 200;

/** Runs to the end, or until interrupted; shows how far it has come. */
async function run(
  circuit: Circuit,
  conditions: RegulationConditions,
  quiet: boolean,
  { progress, pause, interrupted }: Environment,
): Promise<Answer<RegulationCurve>> {
  const steps = regulation(circuit, conditions);
  let next = steps.next();
  let shown = Date.now();
  for (let count = 1; next.done !== true; count++) {
    if (count % STEPS === 0 && Date.now() - shown > SHOWN_EVERY_MS) {
      shown = Date.now();
      const { mode, against, done, of } = next.value;
      if (!quiet) progress?.(`${mode}, against ${against}: ${done} of ${of} points`);
      await pause?.();
    }
    next = steps.next(interrupted?.() ?? false);
  }
  progress?.("");
  return next.value;
}
