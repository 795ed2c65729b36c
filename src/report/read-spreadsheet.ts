/** Reading back a flat OpenDocument worksheet (ISO/IEC 26300, `.fods`) that somebody has filled in. */
import { XMLParser, XMLValidator } from "fast-xml-parser";

/** Cells as text, by row and column; numbers with a decimal point and an ASCII minus. */
export type Sheet = readonly (readonly string[])[];

export interface UnreadableSheet {
  readonly message: string;
  readonly hint: string;
}

/** No worksheet of test points is larger: repeated cells beyond are blank paper. */
const MOST_ROWS = 5000;
const MOST_COLUMNS = 100;
/** Elements inside each other; a worksheet has nine. */
const DEEPEST = 40;

type Node = Readonly<Record<string, unknown>>;

const HINT = "save it again as flat OpenDocument spreadsheet (.fods)";

/** The first table of the document that has a cell saying `point`, else the first; entities are not expanded. */
export function sheetCells(text: string): Sheet | UnreadableSheet {
  if (/<!(DOCTYPE|ENTITY)/i.test(text)) {
    return { message: "the file declares a document type, which no worksheet needs", hint: HINT };
  }
  const document = parsed(text);
  if ("message" in document) return document as UnreadableSheet;
  const tables = descend(document, "office:document", "office:body", "office:spreadsheet").flatMap((sheet) =>
    children(sheet, "table:table"),
  );
  if (tables.length === 0) return { message: "there is no table in it", hint: HINT };
  const sheets = tables.map(rowsOf);
  return (
    sheets.find((rows) => rows.some((row) => row.some((cell) => cell.trim().toLowerCase() === "point"))) ??
    sheets[0]!
  );
}

function parsed(text: string): Node | UnreadableSheet {
  try {
    const valid = XMLValidator.validate(text);
    if (valid !== true) {
      return {
        message: `it is damaged: ${valid.err.msg.replace(/\.$/, "")}, line ${valid.err.line}`,
        hint: HINT,
      };
    }
    if (tooDeep(text)) return { message: "its elements lie too deep inside each other", hint: HINT };
    const parser = new XMLParser({
      ignoreAttributes: false,
      attributeNamePrefix: "@_",
      parseTagValue: false,
      parseAttributeValue: false,
      processEntities: false,
      trimValues: false,
      preserveOrder: false,
    });
    return parser.parse(text) as Node;
  } catch (error) {
    return {
      message: `it cannot be read: ${error instanceof Error ? error.message.split("\n")[0] : "damaged"}`,
      hint: HINT,
    };
  }
}

function tooDeep(text: string): boolean {
  let depth = 0;
  for (const [, closing, , self] of text.matchAll(/<(\/?)([A-Za-z][\w:.-]*)[^>]*?(\/?)>/g)) {
    depth += closing === "/" ? -1 : self === "/" ? 0 : 1;
    if (depth > DEEPEST) return true;
  }
  return false;
}

/** Children of a name, whether there is none, one or several. */
function children(node: unknown, name: string): readonly Node[] {
  if (typeof node !== "object" || node === null) return [];
  const found = (node as Node)[name];
  const list = Array.isArray(found) ? found : found === undefined ? [] : [found];
  return list.map((each) => (typeof each === "object" && each !== null ? (each as Node) : { "#text": each }));
}

const descend = (node: Node, ...names: readonly string[]): readonly Node[] =>
  names.reduce<readonly Node[]>((nodes, name) => nodes.flatMap((each) => children(each, name)), [node]);

const repeats = (node: Node, key: string, most: number): number => {
  const count = Number(node[`@_table:number-${key}-repeated`] ?? 1);
  return Number.isInteger(count) && count > 0 ? Math.min(count, most) : 1;
};

/** Rows in order, with those in groups and headers; a row repeated over blank paper stands once. */
function rowsOf(table: Node): Sheet {
  const rows: string[][] = [];
  const inside = [
    ...["table:table-header-rows", "table:table-row-group", "table:table-rows"].flatMap((name) =>
      children(table, name),
    ),
    table,
  ];
  for (const holder of inside) {
    for (const row of children(holder, "table:table-row")) {
      const cells = cellsOf(row);
      const count = cells.some((cell) => cell !== "") ? repeats(row, "rows", MOST_ROWS) : 1;
      for (let k = 0; k < count && rows.length < MOST_ROWS; k++) rows.push(cells);
    }
  }
  return rows;
}

/**
 * Cells of a row in their places. Elements of one name lose their order beside those of another, and covered
 * cells (under a merged one) are another: as these are blank, they are put where the spans say.
 */
function cellsOf(row: Node): string[] {
  const cells: string[] = [];
  for (const cell of children(row, "table:table-cell")) {
    const text = textOf(cell);
    const count = repeats(cell, "columns", MOST_COLUMNS);
    const span = Number(cell["@_table:number-columns-spanned"] ?? 1);
    for (let k = 0; k < count && cells.length < MOST_COLUMNS; k++) cells.push(text);
    for (let k = 1; k < span && cells.length < MOST_COLUMNS; k++) cells.push("");
  }
  return cells;
}

/** A number as the file holds it, whatever the country shows; else the words of the cell. */
function textOf(cell: Node): string {
  const type = cell["@_office:value-type"];
  const value = cell["@_office:value"];
  if (typeof value === "string" && (type === "float" || type === "currency" || type === "percentage"))
    return value;
  const paragraphs = children(cell, "text:p").map(wordsOf);
  return decoded(paragraphs.join(" ").trim());
}

const wordsOf = (node: Node): string => {
  const own = node["#text"];
  const spans = ["text:span", "text:a"].flatMap((name) => children(node, name)).map(wordsOf);
  return [own === undefined ? "" : String(own), ...spans].join("");
};

/** The five entities of XML itself; no others are known. */
const decoded = (text: string): string =>
  text
    .replaceAll("&lt;", "<")
    .replaceAll("&gt;", ">")
    .replaceAll("&quot;", '"')
    .replaceAll("&apos;", "'")
    .replaceAll("&amp;", "&");
