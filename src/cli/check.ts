import { operatingWarnings } from "../bench/check.ts";
import { voltages } from "../bench/voltages.ts";
import { diagnosticsCsv } from "../report/csv.ts";
import { type Arguments, has, valuesGiven } from "./arguments.ts";
import { readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { format } from "./format.ts";
import { fileOperand, openNetlist } from "./netlist.ts";
import { destination } from "./output.ts";
import { BadNetlist } from "./refusal.ts";
import { errorsOf, type Run, settle } from "./settle.ts";

/** `preprobe check`: everything wrong or doubtful about a netlist, its operating point included. */
export function check(given: Arguments, environment: Environment): number {
  const file = fileOperand(given, "check");
  if (has(given, "format")) return format(file, valuesGiven(given, "output"), environment);
  try {
    return examine(file, given, environment);
  } catch (error) {
    if (error instanceof BadNetlist)
      environment.stderr(`${tally(error.errors.length, error.warnings.length)}\n`);
    throw error;
  }
}

function examine(file: string, given: Arguments, environment: Environment): number {
  const to = destination(given, "check");
  const opened = openNetlist(file, given, environment);
  const { circuit } = opened;
  const { results, failures } = voltages(circuit, readConditions(given, circuit));
  const found = operatingWarnings(circuit, results);
  opened.show(found);
  const netlist = { ...opened, warnings: [...opened.warnings, ...found] };
  const modes = results.map(({ mode }) => mode);
  const summary = { errors: failures.length, warnings: netlist.warnings.length, modes_solved: modes };
  const run = { command: "check", netlist, results: [summary], failures, to, quiet: has(given, "quiet") };
  const forms = {
    table: () => `${verdict(run, modes)}\n`,
    csv: () => diagnosticsCsv([...failuresAsErrors(run), ...netlist.warnings]),
  };
  return settle(run, forms, environment);
}

const failuresAsErrors = (run: Pick<Run, "netlist" | "failures">) =>
  errorsOf(run).map((error) => ({ severity: "error" as const, ...error }));

const counted = (count: number, word: string) => `${count} ${word}${count === 1 ? "" : "s"}`;

const tally = (errors: number, warnings: number) =>
  `${counted(errors, "error")}, ${counted(warnings, "warning")}`;

/** What the check comes to, in one line. */
function verdict({ netlist, failures }: Run, modes: readonly string[]): string {
  const { circuit, warnings, file } = netlist;
  if (failures.length > 0 || warnings.length > 0) return tally(failures.length, warnings.length);
  const name = file === "-" ? "the netlist" : file;
  if (circuit.parts.length === 0) return `${name} is sound; it names types and no parts`;
  return `${name} is sound; operating point found in ${modes.join(", ")}`;
}
