import { oscillation } from "../bench/oscillation.ts";
import { type Circuit, isCalled } from "../circuit/circuit.ts";
import { nearestWord } from "../language/index.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { oscillationCsv } from "../report/oscillation-csv.ts";
import { oscillationSvg } from "../report/oscillation-svg.ts";
import { oscillationTable } from "../report/oscillation-table.ts";
import { type Arguments, has, listGiven } from "./arguments.ts";
import { readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { Refusal, readEach, readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";

/** `preprobe oscillation`: natural frequencies, what grows, with what margin, and what it settles at. */
export function oscillationCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "oscillation");
  const netlist = openCircuit(fileOperand(given, "oscillation"), given, environment);
  const { circuit } = netlist;
  const { conditions, nets } = readTogether({
    conditions: () => readConditions(given, circuit),
    nets: () => readEach(listGiven(given, "at"), (name) => netNamed(name, circuit)),
  });
  const { results, failures } = oscillation(circuit, { ...conditions, nets, margins: has(given, "margins") });
  const phrases = conditionPhrases(circuit, conditions, results);
  const run = { command: "oscillation", netlist, results, failures, to, quiet: has(given, "quiet") };
  return settle(
    run,
    {
      table: () => oscillationTable(circuit, results, phrases, environment),
      csv: () => oscillationCsv(results),
      files: { ".svg": () => oscillationSvg(circuit, results, phrases) },
    },
    environment,
  );
}

/** The shown name of a net called by it or by one of its points. */
function netNamed(name: string, { nets }: Circuit): string {
  const net = nets.find((each) => isCalled(each, name));
  if (net !== undefined) return net.name;
  const near = nearestWord(
    name,
    nets.flatMap((each) => [each.name, ...each.points]),
  );
  throw new Refusal(`--at ${name}: there is no such net or pin`, near && `did you mean ${near}?`);
}
