import { readFileSync, writeFileSync } from "node:fs";
import type { Findings } from "./results.ts";
import { ROOT } from "./root.ts";
import { tables } from "./table.ts";

const DOCUMENT = `${ROOT}docs/benchmark.md`;
const BEGIN = "<!-- figures -->\n";
const END = "<!-- end of figures -->";

/** Writes the tables between the marks in the document. */
export function writeDocument(findings: Findings): void {
  const text = readFileSync(DOCUMENT, "utf8");
  const [before, rest = ""] = text.split(BEGIN);
  const [, after] = rest.split(END);
  if (after === undefined) throw new Error("docs/benchmark.md has no marks for the figures");
  writeFileSync(DOCUMENT, `${before}${BEGIN}\n${tables(findings, "document")}\n\n${END}${after}`);
}
