import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { drawDiagnostic, readNetlist } from "../../src/language/index.ts";

// UPDATE=1 npx vitest run tests/language/golden.test.ts writes the expected texts anew: read the difference.
const folder = new URL("golden/", import.meta.url);
const names = readdirSync(folder).filter((name) => name.endsWith(".netlist"));

function complaints(file: string): string {
  const { diagnostics, sources } = readNetlist(readFileSync(new URL(file, folder), "utf8"), { file });
  return `${diagnostics.map((d) => drawDiagnostic(d, sources.get(d.file))).join("\n\n")}\n`;
}

describe("All mistakes of a file are reported at once, each with its place and a way out", () => {
  it.each(names)("%s", (name) => {
    const expected = new URL(name.replace(".netlist", ".txt"), folder);
    const found = complaints(name);
    if (process.env.UPDATE !== undefined) writeFileSync(expected, found);
    expect(found).toBe(readFileSync(expected, "utf8"));
  });
});
