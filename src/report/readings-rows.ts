/** Readings in a table: a column `point` and one a mode, as the worksheet has them, or the columns point, mode and value. */
import type { Circuit } from "../circuit/circuit.ts";
import { modesOf } from "../circuit/conditions.ts";
import type { Sheet } from "./read-spreadsheet.ts";

/** A cell with a reading, not yet understood. */
export interface ReadingCell {
  /** As written, or the name of the mode whose column it is. */
  readonly mode: string;
  readonly point: string;
  /** Blanks of every width are one. */
  readonly text: string;
  /** Counted from 1. */
  readonly row: number;
}

/** Why a table holds no readings: no column of points, more rows than any circuit has points, no column of a mode. */
export type NoReadings = "points" | "rows" | "modes";

/** No circuit has as many points. */
export const MOST_ROWS = 5000;

/** What people put where they measured nothing. */
const NOT_MEASURED = /^[-\u2010-\u2015\u2212?/.]?$/;

const plain = (text: string) => text.trim().toLowerCase();
const isPoints = (cell: string) => plain(cell) === "point";

export const hasPoints = (rows: Sheet): boolean => rows.some((row) => row.some(isPoints));

/** The cells that somebody wrote a reading in, or why there are none. */
export function readingCells(rows: Sheet, circuit: Circuit): readonly ReadingCell[] | NoReadings {
  const head = rows.findIndex((row) => row.some(isPoints));
  const heads = rows[head];
  if (heads === undefined) return "points";
  if (rows.length > head + MOST_ROWS + 1) return "rows";
  const places = placesOf(heads, circuit);
  if (places === undefined) return "modes";
  const at = heads.findIndex(isPoints);
  return rows.slice(head + 1).flatMap((cells, k) => {
    const point = cells[at]?.trim() ?? "";
    const written = places(cells).map(([mode, text]) => ({ mode: mode.trim(), text: oneBlank(text) }));
    return written
      .filter(({ text }) => point !== "" && !NOT_MEASURED.test(text))
      .map((each) => ({ ...each, point, row: head + k + 2 }));
  });
}

/** Where a row has its readings: of which modes, and what is written. */
type Places = (row: readonly string[]) => readonly (readonly [mode: string, text: string])[];

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

const oneBlank = (text: string) => text.replace(/[\s\u00a0\u2007\u2009\u202f]+/g, " ").trim();
