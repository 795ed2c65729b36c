import { separatedRows } from "../report/separated-rows.ts";
import { Refusal } from "./refusal.ts";

/**
 * Rows of comma-, semicolon- or tab-separated values (RFC 4180, with `#` lines as remarks). In UTF-8 or, as
 * spreadsheet programs also save them, UTF-16 or Windows' Western letters.
 */
export function separatedCells(bytes: Uint8Array, file: string): readonly (readonly string[])[] {
  const text = decoded(bytes);
  if (text.includes("\0")) throw new Refusal(`${file} is not text`, "readings come from .ods, .fods or .csv");
  return separatedRows(text);
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
