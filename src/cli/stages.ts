import { stages } from "../bench/stages.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { stagesCsv } from "../report/stages-csv.ts";
import { stagesSvg } from "../report/stages-svg.ts";
import { stagesTable } from "../report/stages-table.ts";
import { type Arguments, has } from "./arguments.ts";
import { readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { Refusal } from "./refusal.ts";
import { settle } from "./settle.ts";

/** `preprobe stages`: what every transistor does. */
export function stagesCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "stages");
  const netlist = openCircuit(fileOperand(given, "stages"), given, environment);
  const { circuit } = netlist;
  if (!circuit.parts.some(({ kind }) => kind === "transistor")) {
    throw new Refusal("the netlist has no transistor", "stages says what transistors do");
  }
  const conditions = readConditions(given, circuit);
  const { results, failures } = stages(circuit, conditions);
  const phrases = conditionPhrases(circuit, conditions, results);
  const run = { command: "stages", netlist, results, failures, to, quiet: has(given, "quiet") };
  const drawn = to.files.some(({ ending }) => ending === ".svg");
  if (drawn && results.length > 0 && results.every(({ push_pull }) => push_pull.length === 0)) {
    throw new Refusal(
      "there is no push-pull stage to draw",
      "the plot shows quiescent currents of pairs; the rest is in the table and in .csv and .json",
    );
  }
  return settle(
    run,
    {
      table: () => stagesTable(circuit, results, phrases, environment),
      csv: () => stagesCsv(results),
      files: { ".svg": () => stagesSvg(circuit, results, phrases) },
    },
    environment,
  );
}
