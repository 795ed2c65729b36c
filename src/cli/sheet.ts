import { posix } from "node:path";
import { beside } from "../language/files.ts";
import { readNetlist } from "../language/index.ts";
import { LIBRARY_FILE } from "../language/library.ts";
import { blankSheet, type SheetDocument } from "../page/state/document.ts";
import { type Arguments, has, valueGiven } from "./arguments.ts";
import { readConditions, readMeter } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, type Netlist, openCircuit } from "./netlist.ts";
import { destination, write } from "./output.ts";
import { EXIT, Refusal, readTogether } from "./refusal.ts";

/** Where the page keeps the sheet that it opens with. */
const PLACE = '<script type="application/json" id="sheet-data"></script>';

/** `preprobe sheet`: the interactive page with this circuit in it. */
export function sheetCommand(given: Arguments, environment: Environment): number {
  const { files } = destination(given, "sheet");
  if (files.length === 0) {
    throw new Refusal("sheet needs -o, the page to write", "for example preprobe sheet FILE -o sheet.html");
  }
  const netlist = openCircuit(fileOperand(given, "sheet"), given, environment);
  const page = pageWith(sheetOf(netlist, given), environment.page?.());
  for (const { path } of files) {
    write(path, page, environment);
    if (!has(given, "quiet")) environment.stderr(`wrote ${path}\n`);
  }
  return EXIT.done;
}

/** The circuit and what the options change of it. */
function sheetOf(netlist: Netlist, given: Arguments): SheetDocument {
  const { conditions } = readTogether({
    conditions: () => readConditions(given, netlist.circuit),
    meter: () => readMeter(given),
  });
  const { modes, set = [], ambientCelsius, isothermal = false } = conditions;
  const { main, texts } = filesOf(netlist);
  return blankSheet(main, texts, "", {
    mode: modes?.[0] ?? "",
    set,
    ambientCelsius: ambientCelsius ?? null,
    meter: valueGiven(given, "meter") ?? "",
    isothermal,
  });
}

/** The netlist's files by names that hold on any machine: as seen from the folder of the first. */
function filesOf({ file, sources }: Netlist): { main: string; texts: Record<string, string> } {
  const folder = posix.dirname(file);
  const named = (path: string) => (path === "-" ? "sheet.netlist" : posix.relative(folder, path));
  const own = [...sources].filter(([path]) => path !== LIBRARY_FILE || path === file);
  const texts = Object.fromEntries(own.map(([path, text]) => [named(path), text]));
  const main = named(file);
  const { circuit } = readNetlist(texts[main] ?? "", {
    file: main,
    files: (name, from) => texts[beside(name, from)],
  });
  if (circuit !== undefined) return { main, texts };
  throw new Refusal(
    `${file} uses files that cannot go with it`,
    "name them by where they lie beside the netlist, not by a path from the root",
  );
}

/** The built page with a sheet in it. No text of the sheet can end the element that holds it. */
function pageWith(sheet: SheetDocument, page: string | undefined): string {
  const [before, after] = page?.split(PLACE) ?? [];
  if (before === undefined || after === undefined) {
    throw new Refusal("the page has not been built yet", "npm run build makes dist/preprobe.html");
  }
  const data = JSON.stringify(sheet).replaceAll("<", "\\u003c");
  return `${before}${PLACE.replace("></", () => `>${data}</`)}${after}`;
}
