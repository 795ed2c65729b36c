import { type TypeSheet, typeSheets } from "../bench/types.ts";
import type { DeviceType } from "../circuit/circuit.ts";
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { libraryTypes } from "../language/index.ts";
import { typesCsv } from "../report/csv.ts";
import { resultsJson } from "../report/json.ts";
import { typesTable, typeTable } from "../report/types-table.ts";
import { type Arguments, has } from "./arguments.ts";
import { known } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { openNetlist } from "./netlist.ts";
import { deliver, destination } from "./output.ts";
import { EXIT, Refusal } from "./refusal.ts";

/** `preprobe types`: the device library, with the types of a netlist, or one type in full. */
export function types(given: Arguments, environment: Environment): number {
  const to = destination(given, "types");
  const { name, file } = operands(given.operands);
  const from = file === undefined ? library() : withNetlist(file, given, environment);
  const all = typeSheets(from.types);
  const chosen = name === undefined ? all : one(all, name);
  const [single] = chosen;
  const run = { command: "types", circuit: from.title, warnings: from.warnings, results: chosen };
  deliver(
    {
      table: () =>
        name === undefined || single === undefined
          ? typesTable(chosen, environment)
          : typeTable(single, environment),
      csv: () => typesCsv(chosen),
      json: () => resultsJson(run),
    },
    to,
    has(given, "quiet"),
    environment,
  );
  return EXIT.done;
}

/** A netlist is known by its ending, by a folder before it, or by being standard input. */
const isFile = (word: string) => word === "-" || /\.netlist$|[\\/]/.test(word);

function operands(words: readonly string[]): { name: string | undefined; file: string | undefined } {
  const files = words.filter(isFile);
  const names = words.filter((word) => !isFile(word));
  if (files.length > 1) throw new Refusal(`types takes one netlist, but ${files.join(" and ")} are given`);
  if (names.length > 1) {
    throw new Refusal(
      `types takes one name, but ${names.join(" and ")} are given`,
      "without a name it lists all",
    );
  }
  return { name: names[0], file: files[0] };
}

interface Collection {
  readonly title: string;
  readonly types: Readonly<Record<string, DeviceType>>;
  readonly warnings: readonly Diagnostic[];
}

const library = (): Collection => ({ title: "device library", types: libraryTypes(), warnings: [] });

/** The netlist's own types over those of the library. */
function withNetlist(file: string, given: Arguments, environment: Environment): Collection {
  const { circuit, warnings } = openNetlist(file, given, environment);
  return { title: circuit.title, types: { ...libraryTypes(), ...circuit.types }, warnings };
}

function one(all: readonly TypeSheet[], name: string): readonly TypeSheet[] {
  known(
    [name],
    "type",
    all.map(({ type }) => type),
  );
  return all.filter(({ type }) => type === name);
}
