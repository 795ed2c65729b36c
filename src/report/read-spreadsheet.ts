/** Reading back an OpenDocument worksheet (ISO/IEC 26300) that somebody has filled in. */
import { type ElementNode, readMarkup } from "./read-markup.ts";
import { hasPoints } from "./readings-rows.ts";
import { contentOf, isPackage } from "./spreadsheet-package.ts";

/** Cells as text, by row and column; numbers with a decimal point and an ASCII minus. */
export type Sheet = readonly (readonly string[])[];

export interface UnreadableSheet {
  readonly message: string;
  readonly hint: string;
}

/** No worksheet of test points is larger: repeated cells beyond are blank paper. */
const MOST_ROWS = 5000;
const MOST_COLUMNS = 100;

const HINT = "save it again as an OpenDocument spreadsheet (.ods or .fods)";

/** In front of what a cell holds as a date or time of day: no reading is one. */
export const NO_NUMBER = "date ";

/** The cells of a spreadsheet file, packed (.ods) or flat (.fods). */
export function spreadsheetCells(bytes: Uint8Array): Sheet | UnreadableSheet {
  const text = isPackage(bytes) ? contentOf(bytes) : decoded(bytes);
  if (typeof text !== "string") return { ...text, hint: HINT };
  return sheetCells(text);
}

function decoded(bytes: Uint8Array): string | { readonly message: string } {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return { message: "it is no OpenDocument spreadsheet, packed or flat" };
  }
}

/** The first table of the document that has a cell saying `point`, else the first; entities are not expanded. */
export function sheetCells(text: string): Sheet | UnreadableSheet {
  const root = readMarkup(text);
  if ("message" in root) return { ...root, hint: HINT };
  if (root.name !== "office:document" && root.name !== "office:document-content") {
    return { message: `its root is ${root.name}, not that of an OpenDocument file`, hint: HINT };
  }
  const tables = childrenOf(root, "office:body", "office:spreadsheet", "table:table");
  if (tables.length === 0) return { message: "there is no table in it", hint: HINT };
  const sheets = tables.map(rowsOf);
  return sheets.find(hasPoints) ?? sheets[0]!;
}

const elements = ({ children }: ElementNode): readonly ElementNode[] =>
  children.filter((child) => typeof child !== "string");

const childrenOf = (node: ElementNode, ...path: readonly string[]): readonly ElementNode[] =>
  path.reduce<readonly ElementNode[]>(
    (nodes, name) => nodes.flatMap((each) => elements(each).filter((child) => child.name === name)),
    [node],
  );

function repeats(node: ElementNode, key: "rows" | "columns", most: number): number {
  const count = Number(node.attributes[`table:number-${key}-repeated`] ?? 1);
  return Number.isInteger(count) && count > 0 ? Math.min(count, most) : 1;
}

/** What rows may lie in. */
const HOLDERS = ["table:table-header-rows", "table:table-row-group", "table:table-rows"];

function rowNodes(holder: ElementNode): readonly ElementNode[] {
  return elements(holder).flatMap((child) => {
    if (child.name === "table:table-row") return [child];
    return HOLDERS.includes(child.name) ? rowNodes(child) : [];
  });
}

/** Rows in order; one repeated over blank paper stands once. */
function rowsOf(table: ElementNode): Sheet {
  const rows: (readonly string[])[] = [];
  for (const row of rowNodes(table)) {
    const cells = cellsOf(row);
    const count = cells.some((cell) => cell !== "") ? repeats(row, "rows", MOST_ROWS) : 1;
    for (let k = 0; k < count && rows.length < MOST_ROWS; k++) rows.push(cells);
  }
  return rows;
}

/** Cells in their places; those covered by a merged one are blank, whatever is kept beneath. */
function cellsOf(row: ElementNode): readonly string[] {
  const cells: string[] = [];
  for (const cell of elements(row)) {
    const covered = cell.name === "table:covered-table-cell";
    if (!covered && cell.name !== "table:table-cell") continue;
    const text = covered ? "" : textOf(cell);
    const count = repeats(cell, "columns", MOST_COLUMNS);
    for (let k = 0; k < count && cells.length < MOST_COLUMNS; k++) cells.push(text);
  }
  return cells;
}

const NUMBERS = ["float", "currency", "percentage"];

/** A number as the file holds it, whatever the country shows; else the words of the cell. */
function textOf(cell: ElementNode): string {
  const { attributes } = cell;
  const type = attributes["office:value-type"] ?? "";
  const value = attributes["office:value"];
  if (value !== undefined && NUMBERS.includes(type)) return value;
  const words = childrenOf(cell, "text:p").map(wordsOf).join(" ").trim();
  if (type === "date" || type === "time") return `${NO_NUMBER}${words}`;
  return words === "" ? (attributes["office:string-value"] ?? "").trim() : words;
}

/** Not what the cell says: remarks hung onto its text. */
const ASIDE = ["office:annotation", "office:annotation-end", "text:note", "text:ruby-text"];

function wordsOf({ children }: ElementNode): string {
  const words = children.map((child) => {
    if (typeof child === "string") return child;
    if (["text:s", "text:tab", "text:line-break"].includes(child.name)) return " ";
    return ASIDE.includes(child.name) ? "" : wordsOf(child);
  });
  return words.join("");
}
