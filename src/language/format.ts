/** A netlist in canonical layout: columns, blanks and line ends are set, words and comments are kept. */
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { partKind } from "../parts/index.ts";
import { Complaints } from "./complaints.ts";
import { unified } from "./files.ts";
import { Reader } from "./read.ts";
import { connectionWord } from "./read-part.ts";
import { type Line, Scanner, type Word } from "./scan.ts";
import { OTHER_KEYWORDS, type Statement, statements } from "./statements.ts";

const KEYWORD_WIDTH = 15;
const FIGURE_WIDTH = 9;
const INDENT = "    ";
/** A column wider than this is not kept for the lines around it. */
const WIDEST_COLUMN = 32;
const WIDEST_LINE = 88;

/** One line laid out as far as it stands alone: cells still to be put in columns. */
interface Row {
  readonly cells: readonly string[];
  /** Rows of the same table share the widths of their columns. */
  readonly table: string;
  readonly comment: string | undefined;
}

/**
 * The text in canonical layout, ended by a line feed; formatting that once more changes nothing, and both
 * texts mean the same. A file whose statements cannot be read is not touched: its errors come back.
 */
export function formatNetlist(text: string, options: { file?: string } = {}): string | readonly Diagnostic[] {
  const file = options.file ?? "netlist";
  const complaints = new Complaints();
  // what other files say does not matter to the layout of this one
  new Reader(complaints, () => "#").file(file, text);
  if (complaints.errors > 0) return complaints.sorted([file]).filter(({ severity }) => severity === "error");
  const lines = new Scanner(file, unified(text), complaints).lines();
  const rows = new Layout(statements(lines, complaints)).rows(lines);
  return `${blocks(rows).map(drawBlock).join("\n\n")}\n`;
}

/** The words with one blank between, a comma at the word before it. */
function joined(words: readonly Word[]): string {
  let text = "";
  for (const word of words) {
    const comma = word.text === "," && !word.quoted;
    text += `${text === "" || comma ? "" : " "}${word.quoted ? `"${word.text}"` : word.text}`;
  }
  return text;
}

class Layout {
  readonly #of = new Map<Line, Statement>();

  constructor(all: readonly Statement[]) {
    for (const statement of all) for (const line of statement.lines) this.#of.set(line, statement);
  }

  /** A row for each line; nothing for an empty one. */
  rows(lines: readonly Line[]): (Row | undefined)[] {
    return lines.map((line) => {
      const { comment } = line;
      const statement = this.#of.get(line);
      if (statement !== undefined) return { ...this.#cells(line, statement), comment };
      if (comment === undefined) return undefined;
      return { cells: [line.indented ? INDENT : ""], table: "comment", comment };
    });
  }

  #cells(line: Line, statement: Statement): Pick<Row, "cells" | "table"> {
    const { keyword } = statement;
    const [first = keyword, second, ...rest] = line.words;
    if (first !== keyword) return continued(line, statement);
    const kind = partKind(keyword.text);
    const start = keyword.text.padEnd(KEYWORD_WIDTH);
    if (kind !== undefined && second !== undefined) {
      const connection = connectionWord(statement, kind, new Complaints());
      return { cells: [start + second.text.padEnd(3), ...parted(rest, connection)], table: "parts" };
    }
    if (keyword.text === "type") return { cells: [`type  ${second?.text}  ${joined(rest)}`], table: "type" };
    const padded = OTHER_KEYWORDS.indexOf(keyword.text as never) >= OTHER_KEYWORDS.indexOf("mode");
    const lead = padded ? start : `${keyword.text} `;
    return { cells: [lead + joined(line.words.slice(1))], table: "others" };
  }
}

/** Values, then connection. */
function parted(words: readonly Word[], connection: Word | undefined): string[] {
  const at =
    connection === undefined
      ? -1
      : words.findIndex((word) => word.column === connection.column && word.line === connection.line);
  return at < 0 ? [joined(words)] : [joined(words.slice(0, at)), joined(words.slice(at))];
}

/** A line that continues a statement. */
function continued(line: Line, statement: Statement): Pick<Row, "cells" | "table"> {
  const { words } = line;
  const [first, second, third, ...rest] = words;
  const keyword = first?.text ?? "";
  const table = `${keyword} ${statement.keyword.line}`;
  const owner = statement.keyword.text;
  if (owner === "transformer" && keyword === "winding" && second !== undefined) {
    const to = words.findIndex((word, k) => k > 2 && words[k + 1]?.text === "to" && word.text !== "to");
    return { cells: [`${INDENT}winding ${second.text}`, ...parted(words.slice(2), words[to])], table };
  }
  if (owner === "switch" && keyword === "pole" && second !== undefined) {
    return { cells: [`${INDENT}pole ${second.text}`, third?.text ?? "", pairs(rest)], table };
  }
  if (owner !== "type") return { cells: [INDENT + joined(words)], table: "others" };
  return { cells: [INDENT + keyword.padEnd(FIGURE_WIDTH) + joined(words.slice(1))], table: "type" };
}

/** `play X  record Y`. */
function pairs(words: readonly Word[]): string {
  const halves = words.map((_, k) => (k % 2 === 0 ? joined(words.slice(k, k + 2)) : ""));
  return halves.filter((pair) => pair !== "").join("  ");
}

/** Runs of rows between empty lines. */
function blocks(rows: readonly (Row | undefined)[]): Row[][] {
  const found: Row[][] = [[]];
  for (const row of rows) {
    if (row !== undefined) found.at(-1)!.push(row);
    else if (found.at(-1)!.length > 0) found.push([]);
  }
  return found.filter((block) => block.length > 0);
}

function drawBlock(block: readonly Row[]): string {
  const texts = block.map((row) => drawCells(row, widths(block.filter(({ table }) => table === row.table))));
  const commented = texts.filter((text, k) => isBeside(block[k]!) && text.length <= WIDEST_LINE);
  const column = Math.max(0, ...commented.map((text) => text.length)) + 2;
  return block
    .map(({ comment, ...row }, k) => {
      const text = texts[k]!;
      if (comment === undefined) return text;
      if (!isBeside({ ...row, comment })) return text + comment;
      return `${text.length + 2 > column ? `${text}  ` : text.padEnd(column)}${comment}`;
    })
    .join("\n");
}

/** Whether the row's comment stands behind words. */
const isBeside = (row: Row) => row.comment !== undefined && row.table !== "comment";

/** The width of each column but the last. */
function widths(rows: readonly Row[]): number[] {
  const columns = Math.max(...rows.map((row) => row.cells.length - 1));
  return Array.from({ length: columns }, (_, column) => {
    const cells = rows.filter((row) => row.cells.length > column + 1).map((row) => row.cells[column]!.length);
    return Math.max(0, ...cells.filter((length) => length <= WIDEST_COLUMN));
  });
}

function drawCells({ cells, table }: Row, columns: readonly number[]): string {
  if (table === "comment") return cells.join("");
  const gap = (k: number) => (k === 0 ? " " : "  ");
  const last = cells.length - 1;
  return cells
    .map((cell, k) => (k === last ? cell : cell.padEnd(columns[k] ?? 0) + gap(k)))
    .join("")
    .trimEnd();
}
