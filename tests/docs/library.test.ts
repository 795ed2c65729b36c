import { writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import * as library from "../../src/index.ts";
import { blocksOf, ROOT, textOf } from "./documents.ts";

const PATH = "docs/library.md";
const IMPORT = /^import (\{[^}]*\}) from "preprobe";$/m;

/** Runs the example with the sources in place of the package, and gives what it prints. */
function printed(example: string): string {
  const lines: string[] = [];
  const log = (...words: unknown[]) => lines.push(`${words.join(" ")}\n`);
  const body = example.replace(IMPORT, "const $1 = library;");
  new Function("library", "console", body)(library, { log });
  return lines.join("");
}

/** Each example is followed by what it prints. */
const EXAMPLES = blocksOf(textOf(PATH)).flatMap(({ info }, n) => (info === "js" ? [n] : []));

describe("the examples of the library", () => {
  it.each(EXAMPLES)("print what the document says: block %i", (n) => {
    const text = textOf(PATH);
    const [example, output] = blocksOf(text).slice(n);
    expect(example?.body).toMatch(IMPORT);
    const wanted = printed(example?.body ?? "");
    if (process.env.UPDATE && output !== undefined) {
      writeFileSync(ROOT + PATH, text.slice(0, output.from) + wanted + text.slice(output.to));
    }
    expect(blocksOf(textOf(PATH))[n + 1]?.body).toBe(wanted);
  });

  it("are joined by a row for every function that the library exports", () => {
    const functions = Object.entries(library).filter(
      ([name, value]) => typeof value === "function" && name !== "Complex",
    );
    for (const [name] of functions) expect(textOf(PATH)).toContain(`\n| \`${name}(`);
  });
});
