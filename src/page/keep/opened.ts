/** What a file is that somebody opens: told from what is in it, whatever it is called. Nothing in it is run. */
import { type Sheet, spreadsheetCells } from "../../report/read-spreadsheet.ts";
import { hasPoints } from "../../report/readings-rows.ts";
import { separatedRows } from "../../report/separated-rows.ts";
import { isPackage } from "../../report/spreadsheet-package.ts";
import type { SheetDocument } from "../state/document.ts";
import { sheetIn } from "./sheet-page-text.ts";

export type Opened =
  | { readonly kind: "sheet"; readonly name: string; readonly document: SheetDocument; readonly text: string }
  | { readonly kind: "netlist"; readonly name: string; readonly text: string }
  | { readonly kind: "readings"; readonly name: string; readonly rows: Sheet }
  | { readonly kind: "curve"; readonly name: string; readonly text: string }
  | { readonly kind: "refused"; readonly message: string };

/** Larger files hold nothing for this page, bytes. */
export const LARGEST = 5e6;

/** What no text has in it: control characters that are no blanks. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are looked for
const BYTES = /[\0-\x08\x0e-\x1f]/;

const refused = (message: string): Opened => ({ kind: "refused", message });

const notText = (name: string): Opened =>
  refused(`${name} is not text: a netlist, a saved sheet, readings or a measured response is wanted`);

function textOf(bytes: Uint8Array): string {
  const wide = bytes[0] === 0xff && bytes[1] === 0xfe ? "utf-16le" : undefined;
  if (wide !== undefined) return new TextDecoder(wide).decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/** The first line that says something. */
const firstLine = (text: string): string =>
  text.split(/\r\n|\r|\n/).find((line) => line.trim() !== "" && !line.trimStart().startsWith("#")) ?? "";

const isCurve = (text: string): boolean => {
  const names = firstLine(text)
    .toLowerCase()
    .split(/[,;\t]/)
    .map((name) => name.replaceAll('"', "").trim());
  return names.includes("hertz") && names.includes("db");
};

function worksheet(name: string, bytes: Uint8Array): Opened {
  const rows = spreadsheetCells(bytes);
  return "message" in rows
    ? refused(`${name}: ${rows.message}; ${rows.hint}`)
    : { kind: "readings", name, rows };
}

/** A netlist, a saved sheet, readings, a measured curve; or why it is none of them. Never throws. */
export function openedFile(name: string, bytes: Uint8Array): Opened {
  if (bytes.length > LARGEST)
    return refused(`${name} is larger than ${LARGEST / 1e6} MB; nothing for this sheet is`);
  if (isPackage(bytes)) return worksheet(name, bytes);
  const text = textOf(bytes).replace(/^\ufeff/, "");
  if (text.includes("\0")) return notText(name);
  if (/^\s*(<!doctype html|<html|\{)/i.test(text)) {
    const document = sheetIn(text);
    if (document !== undefined) return { kind: "sheet", name, document, text };
    return refused(`${name} holds no sheet: it is not one that this page saved, or it is damaged`);
  }
  if (BYTES.test(text)) return notText(name);
  if (text.trimStart().startsWith("<")) return worksheet(name, bytes);
  if (isCurve(text)) return { kind: "curve", name, text };
  if (/\.(csv|tsv)$/i.test(name) || hasPoints([firstLine(text).split(/[,;\t]/)])) {
    const rows = separatedRows(text);
    if (hasPoints(rows)) return { kind: "readings", name, rows };
    if (/\.(csv|tsv)$/i.test(name))
      return refused(
        `${name}: neither a measured curve (a column hertz and a column db) nor readings (a column point)`,
      );
  }
  return { kind: "netlist", name, text };
}
