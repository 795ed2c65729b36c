/** Readings from a table: a column `point` and one a mode, or the columns point, mode and value. */
import type { Circuit } from "../../circuit/circuit.ts";
import { modesOf } from "../../circuit/conditions.ts";
import { readingAt, readingMode } from "../../language/index.ts";
import { NO_NUMBER, type Sheet } from "../../report/read-spreadsheet.ts";

/** As the sheet keeps it. */
export interface TypedReading {
  readonly mode: string;
  readonly point: string;
  readonly text: string;
}

export interface ReadingsTable {
  readonly readings: readonly TypedReading[];
  /** Rows that are no readings, a sentence each. */
  readonly problems: readonly string[];
}

const HEADINGS = 'its heading should be: point, and for each mode "play: reading, V"; or point,mode,value';

/** Where a row has its readings: in which column, and which mode that is. */
type Places = (row: readonly string[]) => readonly (readonly [mode: string, text: string])[];

const plain = (text: string) => text.trim().toLowerCase();

function placesOf(heads: readonly string[], circuit: Circuit): Places | undefined {
  const names = heads.map(plain);
  const [mode, value] = [names.indexOf("mode"), names.indexOf("value")];
  if (mode >= 0 && value >= 0) return (row) => [[row[mode] ?? "", row[value] ?? ""]];
  const columns = modesOf(circuit)
    .flatMap(({ name }) => [name, `${name} off`])
    .map((name) => [name, names.findIndex((head) => isHeadingOf(name.toLowerCase(), head))] as const)
    .filter(([, column]) => column >= 0);
  if (columns.length === 0) return undefined;
  return (row) => columns.map(([name, column]) => [name, row[column] ?? ""]);
}

/** `play`, or `play: reading, V`. */
const isHeadingOf = (mode: string, head: string): boolean =>
  head === mode || (head.startsWith(mode) && /^\s*:\s*reading\b/.test(head.slice(mode.length)));

/** What people put where they measured nothing. */
const NOT_MEASURED = /^[-\u2010-\u2015\u2212?/.]?$/;

export const hasPoints = (rows: Sheet): boolean =>
  rows.some((row) => row.some((cell) => plain(cell) === "point"));

/** The readings in a table's cells; nothing is taken that is no reading of this circuit. */
export function readingsInTable(rows: Sheet, circuit: Circuit): ReadingsTable {
  const head = rows.findIndex((row) => row.some((cell) => plain(cell) === "point"));
  const at = rows[head]?.findIndex((cell) => plain(cell) === "point") ?? -1;
  const places = rows[head] && placesOf(rows[head], circuit);
  if (places === undefined) return { readings: [], problems: [`no column holds readings; ${HEADINGS}`] };
  const all = rows.slice(head + 1).flatMap((row, k) => {
    const point = row[at]?.trim() ?? "";
    return places(row).flatMap(([mode, text]) => {
      const value = text.replace(/[\s\u00a0\u2007\u2009\u202f]+/g, " ").trim();
      if (point === "" || NOT_MEASURED.test(value)) return [];
      return [readingOf(circuit, mode.trim(), point, value, `row ${head + k + 2}`)];
    });
  });
  return {
    readings: all.filter((each) => typeof each !== "string"),
    problems: all.filter((each) => typeof each === "string"),
  };
}

function readingOf(
  circuit: Circuit,
  modeText: string,
  pointText: string,
  text: string,
  where: string,
): TypedReading | string {
  if (text.startsWith(NO_NUMBER)) return `${where}: the reading of ${pointText} is a date there`;
  const mode = readingMode(circuit, modeText);
  if (typeof mode !== "string") return `${where}: ${mode.message}`;
  const found = readingAt(circuit, mode, pointText, text);
  if (!("mode" in found)) return `${where}, ${pointText}: ${found.message}`;
  const { look, point } = found;
  const net = look.kind === "voltage" && look.minus === 0 ? circuit.nets[look.net]?.name : undefined;
  return { mode, point: net ?? point, text: text.replaceAll("-", "\u2212") };
}
