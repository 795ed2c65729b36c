import { Refusal } from "./refusal.ts";

/**
 * Rows of comma-, semicolon- or tab-separated values (RFC 4180, with `#` lines as remarks). In UTF-8 or, as
 * spreadsheet programs also save them, UTF-16 or Windows' Western letters.
 */
export function separatedCells(bytes: Uint8Array, file: string): readonly (readonly string[])[] {
  const text = decoded(bytes);
  if (text.includes("\0")) throw new Refusal(`${file} is not text`, "readings come from .ods, .fods or .csv");
  const mark = separatorOf(text);
  return rowsOf(text, mark).map((row) => (row[0]?.startsWith("#") ? [] : row));
}

function decoded(bytes: Uint8Array): string {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    // Windows' dashes, which not every platform's decoder knows
    return new TextDecoder("windows-1252").decode(bytes).replace(/[\x96\x97]/g, "\u2013");
  }
}

/** The mark next to the heading `point`, wherever the table begins. */
function separatorOf(text: string): string {
  const lines = text.split(/\r\n?|\n/);
  const head =
    lines.find((line) => /(^|[;\t,])\s*"?\s*point\s*"?\s*([;\t,]|$)/i.test(line)) ?? lines[0] ?? "";
  return /[;\t]/.exec(head)?.[0] ?? ",";
}

/** A cell, and the mark or the end of the line behind it; a quoted one may hold either. */
const cellPattern = (mark: string) =>
  new RegExp(`[ ]*(?:"((?:[^"]|"")*)"[^${mark}\\r\\n]*|([^${mark}\\r\\n]*))(${mark}|\\r\\n?|\\n|$)`, "y");

function rowsOf(text: string, mark: string): string[][] {
  const rows: string[][] = [[]];
  const pattern = cellPattern(mark);
  while (pattern.lastIndex < text.length) {
    const [, quoted, bare = "", end = ""] = pattern.exec(text) ?? [];
    rows.at(-1)!.push((quoted?.replaceAll('""', '"') ?? bare).trim());
    if (end !== mark) rows.push([]);
  }
  return rows;
}
