import { typesLike } from "../bench/alike.ts";
import { typeCurves } from "../bench/curves.ts";
import { fits, type TypeSheet, typeSheets } from "../bench/types.ts";
import type { DeviceType } from "../circuit/circuit.ts";
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { nearestWord } from "../language/index.ts";
import { libraryNames, libraryType, libraryTypes } from "../language/library.ts";
import { alikeCsv, alikeTable } from "../report/alike-table.ts";
import { typesCsv } from "../report/csv.ts";
import { curvesSvg } from "../report/curves-svg.ts";
import { curvesCsv, curvesTable } from "../report/curves-table.ts";
import { resultsJson } from "../report/json.ts";
import { typesTable, typeTable } from "../report/types-table.ts";
import { type Arguments, has, valueGiven } from "./arguments.ts";
import type { Environment } from "./environment.ts";
import { openNetlist } from "./netlist.ts";
import { deliver, destination, type Forms } from "./output.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { readCurveConditions, readFilter, readLikeCurrent } from "./type-filter.ts";

/** `preprobe types`: the device library, one type of it, its curves, or the types like it. */
export function types(given: Arguments, environment: Environment): number {
  const to = destination(given, "types");
  const { name, file } = operands(given.operands);
  const like = valueGiven(given, "like");
  const drawn = has(given, "curves");
  refuseContradictions(given, name, like, drawn);
  const from = file === undefined ? library() : withNetlist(file, given, environment);
  const { results, forms } =
    like !== undefined
      ? alike(from, like, given, environment)
      : name === undefined
        ? listed(from, given, environment)
        : drawn
          ? curves(one(from, name), given, environment)
          : inFull(one(from, name), environment);
  if (forms.files === undefined && to.files.some(({ ending }) => ending === ".svg")) {
    throw new Refusal("there is nothing to draw", "for example preprobe types OC71 --curves -o oc71.svg");
  }
  const run = { command: "types", circuit: from.title, warnings: from.warnings, results };
  deliver({ ...forms, json: () => resultsJson(run) }, to, has(given, "quiet"), environment);
  return EXIT.done;
}

function refuseContradictions(
  given: Arguments,
  name: string | undefined,
  like: string | undefined,
  drawn: boolean,
): void {
  if (drawn && (name === undefined || like !== undefined)) {
    throw new Refusal("--curves draws one type, by its name", "for example preprobe types OC71 --curves");
  }
  if (like !== undefined && name !== undefined) {
    throw new Refusal(`--like ${like} names the type; ${name} is one too many`);
  }
  if (!drawn && has(given, "ambient")) {
    throw new Refusal("--ambient warms the junction for --curves only", "sheets hold at 25 °C");
  }
}

interface Collection {
  readonly title: string;
  readonly warnings: readonly Diagnostic[];
  readonly names: readonly string[];
  readonly find: (name: string) => DeviceType | undefined;
  readonly all: () => Readonly<Record<string, DeviceType>>;
}

/** What a question is answered with, in all its forms but JSON. */
interface Found {
  readonly results: readonly unknown[];
  readonly forms: Omit<Forms, "json">;
}

function listed({ all }: Collection, given: Arguments, environment: Environment): Found {
  const filter = readFilter(given);
  const chosen = Object.values(all()).filter((type) => fits(type, filter));
  if (chosen.length === 0) throw new Refusal("no type meets all of that", "leave one of the conditions out");
  const sheets = typeSheets(Object.fromEntries(chosen.map((type) => [type.name, type])));
  return sheetsFound(sheets, () => typesTable(sheets, environment));
}

function inFull(type: DeviceType, environment: Environment): Found {
  const sheets = typeSheets({ [type.name]: type });
  return sheetsFound(sheets, () => sheets.map((sheet) => typeTable(sheet, environment)).join(""));
}

const sheetsFound = (sheets: readonly TypeSheet[], table: () => string): Found => ({
  results: sheets,
  forms: { table, csv: () => typesCsv(sheets) },
});

function alike(from: Collection, name: string, given: Arguments, environment: Environment): Found {
  const wanted = one(from, name);
  if (wanted.device === "diode") {
    throw new Refusal(`${name} is a diode, and transistors are compared`, "types --diodes lists the diodes");
  }
  const { amps: _, devices = [wanted.device], ...rest } = readFilter(given);
  const candidates = Object.values(from.all()).filter((type) => fits(type, { ...rest, devices }));
  const results = typesLike(wanted, candidates, readLikeCurrent(given, wanted));
  return {
    results,
    forms: { table: () => alikeTable(results, environment), csv: () => alikeCsv(results) },
  };
}

function curves(type: DeviceType, given: Arguments, environment: Environment): Found {
  const drawn = typeCurves(type, readCurveConditions(given));
  if (drawn === undefined) {
    throw new Refusal(`${type.name} is a diode, and has no output characteristics`);
  }
  return {
    results: [drawn],
    forms: {
      table: () => curvesTable(drawn, environment),
      csv: () => curvesCsv(drawn),
      files: { ".svg": () => curvesSvg(drawn) },
    },
  };
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

/** A type of the library is read when it is asked for: one takes no time, all of them do. */
const library = (): Collection => ({
  title: "device library",
  warnings: [],
  names: libraryNames(),
  find: (name) => libraryType(name)?.type,
  all: libraryTypes,
});

/** The netlist's own types over those of the library. */
function withNetlist(file: string, given: Arguments, environment: Environment): Collection {
  const { circuit, warnings } = openNetlist(file, given, environment);
  const { types: own, title } = circuit;
  return {
    title,
    warnings,
    names: [...Object.keys(own), ...libraryNames()],
    find: (name) => (Object.hasOwn(own, name) ? own[name] : libraryType(name)?.type),
    all: () => ({ ...libraryTypes(), ...own }),
  };
}

function one({ find, names }: Collection, name: string): DeviceType {
  const type = find(name);
  if (type !== undefined) return type;
  const near = nearestWord(name, names);
  throw new Refusal(
    `there is no type ${name}`,
    near === undefined ? "preprobe types lists those there are" : `did you mean ${near}?`,
  );
}
