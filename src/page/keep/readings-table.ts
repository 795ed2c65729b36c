/** Readings from a table, as the sheet keeps them. */
import type { Circuit } from "../../circuit/circuit.ts";
import { readingAt, readingMode } from "../../language/index.ts";
import { NO_NUMBER, type Sheet } from "../../report/read-spreadsheet.ts";
import { MOST_ROWS, readingCells } from "../../report/readings-rows.ts";

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

/** The readings in a table's cells; nothing is taken that is no reading of this circuit. */
export function readingsInTable(rows: Sheet, circuit: Circuit): ReadingsTable {
  const cells = readingCells(rows, circuit);
  if (cells === "rows")
    return { readings: [], problems: [`more than ${MOST_ROWS} rows; no list of readings has`] };
  if (typeof cells === "string") return { readings: [], problems: [`no column holds readings; ${HEADINGS}`] };
  const all = cells.map(({ mode, point, text, row }) => readingOf(circuit, mode, point, text, `row ${row}`));
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
