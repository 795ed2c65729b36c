import { readdirSync, readFileSync } from "node:fs";
import { join, posix } from "node:path";
import { describe, expect, it } from "vitest";
import { ROOT, textOf } from "./documents.ts";

/** Rows of the table of folders in DEVELOPERS.md: a folder of `src/` and those it may import. */
const rows = [...textOf("DEVELOPERS.md").matchAll(/^\| `src\/([a-z/]+)\/` \| [^|]* \| ([^|]*) \|$/gm)].map(
  ([, folder = "", may = ""]) => ({ folder, may, named: [...may.matchAll(/`([a-z]+)`/g)].map((m) => m[1]!) }),
);

const filesOf = (folder: string): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: "utf8" })
    .map((name) => name.replaceAll("\\", "/"))
    .filter((name) => name.endsWith(".ts"))
    .map((name) => `${folder}/${name}`);

const importsOf = (file: string): string[] =>
  [...readFileSync(join(ROOT, file), "utf8").matchAll(/(?:from|import\()\s*"([^"]+)"/g)].map((m) => m[1]!);

/** The folder of `src/` that an import leads to; packages and netlists lead to none. */
function folderOf(file: string, target: string): string | undefined {
  if (!target.startsWith(".")) return undefined;
  return /^src\/([a-z]+)\//.exec(posix.normalize(posix.join(posix.dirname(file), target)))?.[1];
}

describe("the table of folders in DEVELOPERS.md", () => {
  it("has every folder of src that holds code", () => {
    const listed = new Set(rows.map(({ folder }) => folder));
    const held = readdirSync(join(ROOT, "src"), { withFileTypes: true })
      .filter((entry) => entry.isDirectory() && filesOf(`src/${entry.name}`).length > 0)
      .map(({ name }) => name);
    expect(held.filter((name) => !listed.has(name))).toEqual([]);
  });

  it.each(rows.filter(({ may }) => may !== "all"))(
    "is kept to: src/$folder imports $may",
    ({ folder, named }) => {
      const allowed = new Set([...named, folder.split("/")[0]]);
      const strays = filesOf(`src/${folder}`).flatMap((file) =>
        importsOf(file)
          .filter((target) => !allowed.has(folderOf(file, target) ?? folder.split("/")[0]))
          .map((target) => `${file} imports ${target}`),
      );
      expect(strays).toEqual([]);
    },
  );

  it("is right that only src/cli imports modules of Node.js", () => {
    const strays = filesOf("src").filter(
      (file) => !file.startsWith("src/cli/") && importsOf(file).some((target) => target.startsWith("node:")),
    );
    expect(strays).toEqual([]);
  });
});
