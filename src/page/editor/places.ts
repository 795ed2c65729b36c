/** From places as the reader counts them to offsets in the text. */
import type { Text } from "@codemirror/state";

export interface Placed {
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

export interface Range {
  readonly from: number;
  readonly to: number;
}

/** Where a diagnostic stands; the whole line where it names no word, within the text whatever it says. */
export function rangeOf({ line, column, length }: Placed, text: Text): Range {
  const found = text.line(Math.min(Math.max(1, line), text.lines));
  const from = Math.min(found.from + Math.max(0, column - 1), found.to);
  const to = Math.min(from + length, found.to);
  return to > from ? { from, to } : { from: found.from, to: found.to };
}

/** The smallest piece in which two texts differ: what stands there in `next`. */
export function changeBetween(old: string, next: string): Range & { readonly insert: string } {
  const shorter = Math.min(old.length, next.length);
  let from = 0;
  while (from < shorter && old[from] === next[from]) from += 1;
  let kept = 0;
  while (kept < shorter - from && old[old.length - 1 - kept] === next[next.length - 1 - kept]) kept += 1;
  return { from, to: old.length - kept, insert: next.slice(from, next.length - kept) };
}
