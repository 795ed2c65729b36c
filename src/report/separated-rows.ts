/** Rows of separated values (RFC 4180), whatever the mark between them. */

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

/** Cells by row and column; lines that begin with `#` are remarks, and empty rows. */
export function separatedRows(text: string): readonly (readonly string[])[] {
  const mark = separatorOf(text);
  const rows: string[][] = [[]];
  const pattern = cellPattern(mark);
  while (pattern.lastIndex < text.length) {
    const [, quoted, bare = "", end = ""] = pattern.exec(text) ?? [];
    rows.at(-1)!.push((quoted?.replaceAll('""', '"') ?? bare).trim());
    if (end !== mark) rows.push([]);
  }
  return rows.map((row) => (row[0]?.startsWith("#") ? [] : row));
}
