/** Readings from a file: a column `point` and one for each mode, as the worksheet of `voltages` has them. */
import type { Circuit } from "../circuit/circuit.ts";
import { modesOf } from "../circuit/conditions.ts";
import { readingAt, readingMode } from "../language/index.ts";
import { NO_NUMBER, type Sheet, spreadsheetCells } from "../report/read-spreadsheet.ts";
import type { Environment } from "./environment.ts";
import { readWhole } from "./reading.ts";
import { refusalAt, type Tried } from "./readings.ts";
import { Refusal } from "./refusal.ts";
import { separatedCells } from "./separated.ts";

const HEADINGS = `its heading is: point, and for each mode "play: reading, V"; or point,mode,value`;

/** Readings of an OpenDocument worksheet or of separated values, each with what is wrong with it if anything is. */
export function readingsFrom(file: string, circuit: Circuit, environment: Environment): readonly Tried[] {
  if (!/\.(fods|ods|csv|tsv|txt)$/i.test(file) && file !== "-") {
    throw new Refusal(
      `--readings ${file}: what is in it is not clear from the ending`,
      "readings come from .ods, .fods or .csv: save it as one of these",
    );
  }
  const packed = /\.f?ods$/i.test(file);
  const bytes = readWhole(file, environment, packed ? "worksheet" : "table");
  return rowsToReadings(packed ? worksheet(bytes, file) : separatedCells(bytes, file), circuit, file);
}

function worksheet(bytes: Uint8Array, file: string): Sheet {
  const sheet = spreadsheetCells(bytes);
  if ("message" in sheet) throw new Refusal(`${file}: ${sheet.message}`, sheet.hint);
  return sheet;
}

interface Columns {
  readonly point: number;
  readonly modes: readonly (readonly [mode: string, column: number])[];
  /** Of the long form. */
  readonly mode?: number;
  readonly value?: number;
}

/** No circuit has as many points. */
const MOST_ROWS = 5000;

function rowsToReadings(rows: Sheet, circuit: Circuit, file: string): readonly Tried[] {
  const head = rows.findIndex((row) => row.some((cell) => cell.trim().toLowerCase() === "point"));
  if (head < 0) throw new Refusal(`${file}: no column is headed "point"`, HEADINGS);
  if (rows.length > head + MOST_ROWS + 1)
    throw new Refusal(`${file} has more than ${MOST_ROWS} rows; no list of readings has`);
  const columns = columnsOf(rows[head]!, circuit, file);
  return rows
    .slice(head + 1)
    .flatMap((row, k) => readingsOfRow(row, columns, circuit, `${file}, row ${head + k + 2}`));
}

function columnsOf(heads: readonly string[], circuit: Circuit, file: string): Columns {
  const names = heads.map((head) => head.trim().toLowerCase());
  const point = names.indexOf("point");
  const [mode, value] = [names.indexOf("mode"), names.indexOf("value")];
  if (mode >= 0 && value >= 0) return { point, modes: [], mode, value };
  const states = modesOf(circuit).flatMap(({ name }) => [name, `${name} off`]);
  const modes = states.flatMap((name): [string, number][] => {
    const column = names.findIndex((head) => isHeadingOf(name.toLowerCase(), head));
    return column < 0 ? [] : [[name, column]];
  });
  if (modes.length === 0) throw new Refusal(`${file}: no column holds readings of a mode`, HEADINGS);
  return { point, modes };
}

/** `play`, or `play: reading, V`. */
const isHeadingOf = (mode: string, head: string): boolean =>
  head === mode || (head.startsWith(mode) && /^\s*:\s*reading\b/.test(head.slice(mode.length)));

/** What people put where they measured nothing. */
const NOT_MEASURED = /^[-\u2010-\u2015\u2212?/.]?$/;

function readingsOfRow(
  row: readonly string[],
  { point: at, modes, mode, value }: Columns,
  circuit: Circuit,
  where: string,
): readonly Tried[] {
  const point = row[at]?.trim() ?? "";
  const long = mode !== undefined && value !== undefined;
  const taken = long ? [[row[mode] ?? "", value] as const] : modes;
  return taken.flatMap(([name, column]) => {
    const text = plainText(row[column] ?? "");
    return point === "" || NOT_MEASURED.test(text) ? [] : [triedAt(circuit, name, point, text, where)];
  });
}

function triedAt(circuit: Circuit, mode: string, point: string, text: string, where: string): Tried {
  if (text.startsWith(NO_NUMBER)) {
    return new Refusal(
      `${where}: the reading of ${point} is a date there (${text.slice(NO_NUMBER.length)})`,
      "the program that saved it took the number for one: use its own decimal mark, or format the column as text",
    );
  }
  const known = readingMode(circuit, mode.trim());
  if (typeof known !== "string") return refusalAt(where, known);
  const found = readingAt(circuit, known, point, text);
  return "mode" in found ? found : refusalAt(`${where}, ${point}`, found);
}

/** Blanks of every width are one. */
const plainText = (text: string) => text.replace(/[\s\u00a0\u2007\u2009\u202f]+/g, " ").trim();
