import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** The project's folder. */
export const ROOT = fileURLToPath(new URL("../../", import.meta.url));

/** Every document a reader may open, by its path from the project's folder. */
export const DOCUMENTS: readonly string[] = [
  "README.md",
  "DEVELOPERS.md",
  "CHANGELOG.md",
  "netlists/README.md",
  "scripts/reference/README.md",
  ...readdirSync(`${ROOT}docs`)
    .filter((name) => name.endsWith(".md"))
    .map((name) => `docs/${name}`),
];

export const textOf = (path: string): string => readFileSync(ROOT + path, "utf8");

/** A fenced block: the words behind the fence, and the lines between. */
export interface Block {
  readonly info: string;
  readonly body: string;
  /** Offsets of the body in the document. */
  readonly from: number;
  readonly to: number;
}

/** The fenced blocks of a document in order. */
export function blocksOf(text: string): Block[] {
  return [...text.matchAll(/^```([^\n]*)\n([\s\S]*?)^```$/gm)].map((match) => {
    const [, info = "", body = ""] = match;
    const from = match.index + 4 + info.length;
    return { info: info.trim(), body, from, to: from + body.length };
  });
}
