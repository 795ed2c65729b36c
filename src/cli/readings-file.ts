/** Readings from a file: a column `point` and one for each mode, as the worksheet of `voltages` has them. */
import type { Reading } from "../bench/suspects/looks.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { modesOf } from "../circuit/conditions.ts";
import { type Sheet, sheetCells } from "../report/read-spreadsheet.ts";
import type { Environment } from "./environment.ts";
import { readText } from "./reading.ts";
import { readingAt } from "./readings.ts";
import { Refusal } from "./refusal.ts";

const HEADINGS = `its heading is: point, and for each mode "play: reading, V"; or point,mode,value`;

/** Readings of a `.fods` worksheet or of comma-separated values. */
export function readingsFrom(file: string, circuit: Circuit, environment: Environment): readonly Reading[] {
  const text = readText(file, environment);
  if (!/\.(fods|csv|tsv|txt)$/i.test(file) && file !== "-") {
    throw new Refusal(
      `--readings ${file}: what is in it is not clear from the ending`,
      "readings come from .fods or .csv",
    );
  }
  return rowsToReadings(/\.fods$/i.test(file) ? worksheet(text, file) : separated(text), circuit, file);
}

function worksheet(text: string, file: string): Sheet {
  const sheet = sheetCells(text);
  if ("message" in sheet) throw new Refusal(`${file}: ${sheet.message}`, sheet.hint);
  return sheet;
}

/** Commas, semicolons or tabs; a quoted cell may hold them. */
function separated(text: string): Sheet {
  const lines = text.split(/\r?\n/).filter((line) => line.trim() !== "" && !line.startsWith("#"));
  const mark = /[;\t,]/.exec(lines[0] ?? "")?.[0] ?? ",";
  const cell = new RegExp(`("(?:[^"]|"")*"|[^${mark}]*)(?:${mark}|$)`, "g");
  return lines.map((line) =>
    [...line.matchAll(cell)].map(([, body = ""]) => {
      const bare = body.trim();
      return bare.startsWith('"') ? bare.slice(1, -1).replaceAll('""', '"') : bare;
    }),
  );
}

interface Columns {
  readonly point: number;
  readonly modes: readonly (readonly [mode: string, column: number])[];
  /** Of the long form. */
  readonly mode?: number;
  readonly value?: number;
}

function rowsToReadings(rows: Sheet, circuit: Circuit, file: string): readonly Reading[] {
  const head = rows.findIndex((row) => row.some((cell) => cell.trim().toLowerCase() === "point"));
  if (head < 0) throw new Refusal(`${file}: no column is headed "point"`, HEADINGS);
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
  const modes = modesOf(circuit).flatMap(({ name }): [string, number][] => {
    const lower = name.toLowerCase();
    const column = names.findIndex(
      (head) => head === lower || new RegExp(`^${escaped(lower)}\\s*:\\s*reading\\b`).test(head),
    );
    return column < 0 ? [] : [[name, column]];
  });
  if (modes.length === 0) throw new Refusal(`${file}: no column holds readings of a mode`, HEADINGS);
  return { point, modes };
}

const escaped = (text: string) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

function readingsOfRow(
  row: readonly string[],
  columns: Columns,
  circuit: Circuit,
  where: string,
): readonly Reading[] {
  const point = row[columns.point]?.trim() ?? "";
  const read = (mode: string, text: string | undefined) =>
    text === undefined || text.trim() === "" || point === ""
      ? []
      : [readingAt(mode, point, plainNumber(text), circuit, where)];
  if (columns.mode === undefined || columns.value === undefined) {
    return columns.modes.flatMap(([mode, column]) => read(mode, row[column]));
  }
  const mode = row[columns.mode]?.trim() ?? "";
  const names = modesOf(circuit).map(({ name }) => name);
  if (point !== "" && !names.includes(mode.replace(/ off$/, ""))) {
    throw new Refusal(`${where}: the netlist has no mode "${mode}"`, `the modes are ${names.join(", ")}`);
  }
  return read(mode, row[columns.value]);
}

/** A true minus sign, and a comma where a country writes one. */
const plainNumber = (text: string) =>
  text
    .replaceAll("\u2212", "-")
    .replace(/[\u00a0\u202f]/g, " ")
    .trim();
