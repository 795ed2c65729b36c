/** What a medium loses against frequency, measured by somebody and written down in a table. */

export interface LossPoint {
  readonly hertz: number;
  /** Lost, dB; above 0 where the tape gives back less. */
  readonly decibels: number;
}

/** Ascending in frequency, each frequency once. */
export type LossCurve = readonly LossPoint[];

/** Why a table cannot be read; line and column count from 1. */
export interface Misread {
  readonly line: number;
  readonly column: number;
  readonly message: string;
  readonly hint?: string;
}

/** More than any medium loses, dB. */
const MOST = 200;

interface Cell {
  readonly text: string;
  readonly column: number;
}

interface Row {
  readonly line: number;
  readonly cells: readonly Cell[];
}

const plain = (text: string): string =>
  text
    .trim()
    .replace(/^"(.*)"$/s, "$1")
    .trim();

/** Cells of a line with the column each begins at. */
function cellsOf(line: string, separator: string): readonly Cell[] {
  let column = 1;
  return line.split(separator).map((text) => {
    const cell = { text: plain(text), column: column + (text.length - text.trimStart().length) };
    column += text.length + separator.length;
    return cell;
  });
}

const separatorOf = (header: string): string => [";", "\t"].find((each) => header.includes(each)) ?? ",";

/** Lines that hold something: neither blank nor a remark behind `#`. */
function rowsOf(text: string): readonly Row[] {
  const lines = text.replace(/^\ufeff/, "").split(/\r\n|\r|\n/);
  const full = lines.flatMap((content, i) =>
    content.trim() === "" || content.trimStart().startsWith("#") ? [] : [{ line: i + 1, content }],
  );
  const separator = separatorOf(full[0]?.content ?? "");
  return full.map(({ line, content }) => ({ line, cells: cellsOf(content, separator) }));
}

const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?$/i;

/** A decimal comma is one where commas do not part the cells; a true minus sign is a minus. */
function numberIn(cell: Cell | undefined): number | undefined {
  const text = (cell?.text ?? "").replace("\u2212", "-").replace(",", ".");
  return NUMBER.test(text) ? Number(text) : undefined;
}

const HEADER = "the first line names the columns: hertz,db";

function pointIn({ line, cells }: Row, at: readonly [number, number]): LossPoint | Misread {
  const [first, second] = at.map((k) => cells[k]);
  const missing = (name: string, cell: Cell | undefined, what: string): Misread => ({
    line,
    column: cell?.column ?? 1,
    message: cell === undefined ? `the column ${name} is missing` : `"${cell.text}" is no ${what}`,
    hint: `a line is such as 1000,0.5`,
  });
  const hertz = numberIn(first);
  if (hertz === undefined || !(hertz > 0) || !Number.isFinite(hertz)) {
    return missing("hertz", first, "frequency in Hz");
  }
  const decibels = numberIn(second);
  if (decibels === undefined || !(Math.abs(decibels) <= MOST)) {
    return missing("db", second, `loss in dB, from -${MOST} to ${MOST}`);
  }
  return { hertz, decibels };
}

/**
 * Reads a table with the columns `hertz` and `db` (the loss), in any order and with others beside them,
 * parted by commas, semicolons or tabs. Says where it cannot be read.
 */
export function readLossCurve(text: string): LossCurve | Misread {
  const [header, ...rows] = rowsOf(text);
  if (header === undefined) return { line: 1, column: 1, message: "there is nothing in it", hint: HEADER };
  const names = header.cells.map((cell) => cell.text.toLowerCase());
  const at = [names.indexOf("hertz"), names.indexOf("db")] as const;
  const absent = ["hertz", "db"].find((_, k) => at[k]! < 0);
  if (absent !== undefined) {
    return { line: header.line, column: 1, message: `no column is called ${absent}`, hint: HEADER };
  }
  const points: LossPoint[] = [];
  for (const row of rows) {
    const point = pointIn(row, at);
    if ("message" in point) return point;
    if (points.some(({ hertz }) => hertz === point.hertz)) {
      const column = row.cells[at[0]]?.column ?? 1;
      return { line: row.line, column, message: `${point.hertz} Hz stands there twice` };
    }
    points.push(point);
  }
  if (points.length < 2) {
    return { line: header.line, column: 1, message: "a curve has two frequencies at least" };
  }
  return points.sort((a, b) => a.hertz - b.hertz);
}

/** Loss at `hertz`, dB, on straight lines over log frequency; undefined outside the table. */
export function lossAt(curve: LossCurve, hertz: number): number | undefined {
  const exact = curve.find((point) => Math.abs(point.hertz / hertz - 1) < 1e-9);
  if (exact !== undefined) return exact.decibels;
  const above = curve.findIndex((point) => point.hertz > hertz);
  const [a, b] = [curve[above - 1], curve[above]];
  if (a === undefined || b === undefined) return undefined;
  const share = Math.log(hertz / a.hertz) / Math.log(b.hertz / a.hertz);
  return a.decibels + share * (b.decibels - a.decibels);
}
