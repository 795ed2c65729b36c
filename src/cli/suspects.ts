import { chosenModes } from "../bench/run.ts";
import { type SuspectsConditions, suspects } from "../bench/suspects.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { ACCURACY, explainedOr, unsound } from "../library-suspects.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { suspectsCsv } from "../report/suspects-csv.ts";
import { suspectsTable } from "../report/suspects-table.ts";
import { type Arguments, has, valueGiven } from "./arguments.ts";
import { optional, readConditions, readMeter } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { allReadings } from "./readings.ts";
import { Refusal, readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";
import { readWeights } from "./weights-file.ts";

const WORST = 0.3;

/** `preprobe suspects`: which fault explains the readings, and where to measure next. */
export function suspectsCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "suspects");
  const netlist = openCircuit(fileOperand(given, "suspects"), given, environment);
  const { circuit } = netlist;
  const conditions = read(given, circuit, environment);
  const modes = chosenModes(circuit, conditions).map(({ name }) => name);
  const readings = allReadings(given, circuit, modes, conditions, environment);
  const { results, failures } = explainedOr(
    () => suspects(circuit, readings, conditions),
    unsound(circuit, readings, conditions),
  );
  const phrases = () => conditionPhrases(circuit, conditions, readings, conditions.meter);
  return settle(
    { command: "suspects", netlist, results, failures, to, quiet: has(given, "quiet") },
    {
      table: () => suspectsTable(circuit, results[0]!, phrases(), environment),
      csv: () => suspectsCsv(results[0]!),
    },
    environment,
  );
}

function read(given: Arguments, circuit: Circuit, environment: Environment): SuspectsConditions {
  const { conditions, meter, accuracy, weights } = readTogether({
    conditions: () => readConditions(given, circuit),
    meter: () => readMeter(given),
    accuracy: () => accuracyOf(valueGiven(given, "accuracy")),
    weights: () => optional(valueGiven(given, "weights"), (file) => readWeights(file, environment)),
  });
  return {
    ...conditions,
    ...(meter !== undefined && { meter }),
    accuracy,
    ...(weights !== undefined && { weights }),
    ...(has(given, "pairs") && { pairs: true }),
  };
}

function accuracyOf(text: string | undefined): number {
  if (text === undefined) return ACCURACY;
  const percent = Number(text.replace(/\s*%$/, "").replace(",", "."));
  if (percent > 0 && percent / 100 <= WORST) return percent / 100;
  throw new Refusal(`--accuracy ${text}: a meter is off by more than 0 and at most 30 %`, "for example 3%");
}
