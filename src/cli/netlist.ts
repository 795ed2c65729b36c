import type { Circuit } from "../circuit/circuit.ts";
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { drawDiagnostic, readNetlist, readSetting } from "../language/index.ts";
import type { Refused } from "../language/setting.ts";
import { type Arguments, has, valuesGiven } from "./arguments.ts";
import { sentence } from "./complaints.ts";
import type { Environment } from "./environment.ts";
import { filesBeside, readText } from "./reading.ts";
import { BadNetlist, Refusal } from "./refusal.ts";

/** A netlist without errors. */
export interface Netlist {
  readonly file: string;
  readonly circuit: Circuit;
  readonly warnings: readonly Diagnostic[];
  /** Text by file, those that it uses included; the device library as well. */
  readonly sources: ReadonlyMap<string, string>;
  /** Draws diagnostics found later about the same files. */
  readonly show: (diagnostics: readonly Diagnostic[]) => void;
}

/** The one operand of a command that works on a netlist. */
export function fileOperand(given: Arguments, command: string): string {
  const [file, extra] = given.operands;
  if (file === undefined) {
    throw new Refusal(`${command} needs a netlist`, `preprobe ${command} FILE, or - for standard input`);
  }
  if (extra !== undefined) {
    throw new Refusal(
      `${command} takes one netlist, but "${extra}" follows ${file}`,
      `preprobe ${command} -h`,
    );
  }
  return file;
}

/** Reads the netlist, shows its diagnostics, and refuses one that has errors. */
export function openNetlist(file: string, given: Arguments, environment: Environment): Netlist {
  const text = readText(file, environment);
  const { circuit, diagnostics, sources } = readNetlist(text, { file, files: filesBeside(environment) });
  const quiet = has(given, "quiet");
  const show = (list: readonly Diagnostic[]) => {
    for (const diagnostic of list) {
      if (quiet && diagnostic.severity === "warning") continue;
      const source = sources.get(diagnostic.file);
      environment.stderr(`${drawDiagnostic(diagnostic, source, environment.errorColor)}\n`);
    }
  };
  show(diagnostics);
  const bad = new BadNetlist(diagnostics);
  if (bad.errors.length > 0 || circuit === undefined) throw bad;
  return { file, circuit, warnings: diagnostics, sources, show };
}

/** What `--set` says that is hardly meant so; what it says wrongly is refused when it is used. */
function showDoubts(circuit: Circuit, given: Arguments, environment: Environment): void {
  for (const text of valuesGiven(given, "set")) {
    const doubts: Refused[] = [];
    readSetting(circuit, text, doubts);
    for (const { message, hint } of doubts) {
      environment.stderr(sentence({ message: `--set ${text}: ${message}`, ...(hint && { hint }) }));
    }
  }
}

/** Reads a netlist that has something to solve. */
export function openCircuit(file: string, given: Arguments, environment: Environment): Netlist {
  const netlist = openNetlist(file, given, environment);
  if (!has(given, "quiet")) showDoubts(netlist.circuit, given, environment);
  if (netlist.circuit.parts.length > 0) return netlist;
  throw new Refusal(
    `${file === "-" ? "the netlist" : file} names no parts`,
    "a netlist has a line for each part",
  );
}
