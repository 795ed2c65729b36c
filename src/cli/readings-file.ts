/** Readings from a file: a column `point` and one for each mode, as the worksheet of `voltages` has them. */
import type { Circuit } from "../circuit/circuit.ts";
import { readingAt, readingMode } from "../language/index.ts";
import { NO_NUMBER, type Sheet, spreadsheetCells } from "../report/read-spreadsheet.ts";
import { MOST_ROWS, type NoReadings, readingCells } from "../report/readings-rows.ts";
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

function rowsToReadings(rows: Sheet, circuit: Circuit, file: string): readonly Tried[] {
  const cells = readingCells(rows, circuit);
  if (typeof cells === "string") throw noReadings(cells, file);
  return cells.map(({ mode, point, text, row }) =>
    triedAt(circuit, mode, point, text, `${file}, row ${row}`),
  );
}

function noReadings(why: NoReadings, file: string): Refusal {
  switch (why) {
    case "points":
      return new Refusal(`${file}: no column is headed "point"`, HEADINGS);
    case "rows":
      return new Refusal(`${file} has more than ${MOST_ROWS} rows; no list of readings has`);
    case "modes":
      return new Refusal(`${file}: no column holds readings of a mode`, HEADINGS);
  }
}

function triedAt(circuit: Circuit, mode: string, point: string, text: string, where: string): Tried {
  if (text.startsWith(NO_NUMBER)) {
    return new Refusal(
      `${where}: the reading of ${point} is a date there (${text.slice(NO_NUMBER.length)})`,
      "the program that saved it took the number for one: use its own decimal mark, or format the column as text",
    );
  }
  const known = readingMode(circuit, mode);
  if (typeof known !== "string") return refusalAt(where, known);
  const found = readingAt(circuit, known, point, text);
  return "mode" in found ? found : refusalAt(`${where}, ${point}`, found);
}
