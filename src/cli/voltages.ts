import { voltages } from "../bench/voltages.ts";
import { voltagesCsv } from "../report/csv.ts";
import { voltageTable } from "../report/voltage-table.ts";
import { type Arguments, has } from "./arguments.ts";
import { readConditions, readMeter } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, openNetlist } from "./netlist.ts";
import { destination } from "./output.ts";
import { settle } from "./settle.ts";

/** `preprobe voltages`: the voltage chart of every mode. */
export function voltagesCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "voltages");
  const netlist = openNetlist(fileOperand(given, "voltages"), given, environment);
  const { circuit } = netlist;
  const { results, failures } = voltages(circuit, readConditions(given, circuit), readMeter(given));
  const run = { command: "voltages", netlist, results, failures, to, quiet: has(given, "quiet") };
  return settle(
    run,
    {
      table: () => voltageTable(circuit, results, environment),
      csv: () => voltagesCsv(results),
      files: {
        ".html": () => reportHtml(circuit, results),
        ".fods": () => voltagesSpreadsheet(circuit, results),
      },
    },
    environment,
  );
}
