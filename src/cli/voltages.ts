import { voltages } from "../bench/voltages.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { voltagesCsv } from "../report/csv.ts";
import { voltageTable } from "../report/voltage-table.ts";
import { type Arguments, has } from "./arguments.ts";
import { readConditions, readMeter } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";

/** `preprobe voltages`: the voltage chart of every mode. */
export async function voltagesCommand(given: Arguments, environment: Environment): Promise<number> {
  const to = destination(given, "voltages");
  const netlist = openCircuit(fileOperand(given, "voltages"), given, environment);
  const { circuit } = netlist;
  const { conditions, meter } = readTogether({
    conditions: () => readConditions(given, circuit),
    meter: () => readMeter(given),
  });
  const { results, failures } = voltages(circuit, conditions, meter);
  const phrases = () => conditionPhrases(circuit, conditions, results, meter);
  const files =
    to.files.length > 0
      ? (await import("./voltage-files.ts")).voltageFiles(
          circuit,
          results,
          { ...conditions, ...(meter !== undefined && { meter }) },
          phrases,
        )
      : {};
  const run = { command: "voltages", netlist, results, failures, to, quiet: has(given, "quiet") };
  return settle(
    run,
    {
      table: () => voltageTable(circuit, results, environment),
      csv: () => voltagesCsv(results),
      files,
    },
    environment,
  );
}
