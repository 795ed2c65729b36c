/** The page as a file with a sheet in it, and the sheet in such a file. */
import { readSheet } from "../first-sheet.ts";
import type { SheetDocument } from "../state/document.ts";

/** What the page is made of: its frame with marks, and what stands in place of them. */
export interface PageParts {
  readonly frame: string;
  readonly policy: string;
  readonly style: string;
  readonly script: string;
}

/** Where the page keeps the sheet that it opens with. */
const [BEFORE, AFTER] = ['<script type="application/json" id="sheet-data">', "</script>"];

/** Data that no text in it can end. */
const dataOf = (sheet: SheetDocument): string => JSON.stringify(sheet).replaceAll("<", "\\u003c");

/** The whole page, which opens with this sheet; script and style are those that the policy names. */
export function pageText({ frame, policy, style, script }: PageParts, sheet: SheetDocument): string {
  const parts: Readonly<Record<string, string>> = { POLICY: policy, STYLE: style, SCRIPT: script };
  return frame
    .replace(BEFORE + AFTER, () => "%DATA%")
    .replace(/%(POLICY|STYLE|SCRIPT|DATA)%/g, (_, name: string) =>
      name === "DATA" ? BEFORE + dataOf(sheet) + AFTER : (parts[name] ?? ""),
    );
}

/** The text of the sheet in a page that was saved. Nothing in the page is run, nor read as markup. */
export function dataIn(page: string): string | undefined {
  const from = page.indexOf(BEFORE);
  if (from < 0) return undefined;
  const to = page.indexOf(AFTER, from);
  return to < 0 ? undefined : page.slice(from + BEFORE.length, to);
}

/** The sheet in a page that was saved, or in its bare data. */
export function sheetIn(text: string): SheetDocument | undefined {
  return readSheet(text.trimStart().startsWith("{") ? text : (dataIn(text) ?? ""));
}
