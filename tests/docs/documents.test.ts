import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { COMMANDS } from "../../src/cli/commands.ts";
import { readNetlist } from "../../src/language/index.ts";
import { PART_KINDS } from "../../src/parts/index.ts";
import { commandsOf, screenAfter, transcript } from "./console.ts";
import { type Block, blocksOf, DOCUMENTS, ROOT, textOf } from "./documents.ts";
import { TABLES } from "./tables.ts";

/** `UPDATE=1` writes outputs and tables into the documents instead of comparing them. */
const UPDATE = Boolean(process.env.UPDATE);

/** Replaces the body of the n-th block. */
function withBody(path: string, n: number, body: string): void {
  const text = textOf(path);
  const { from, to } = blocksOf(text)[n]!;
  writeFileSync(ROOT + path, text.slice(0, from) + body + text.slice(to));
}

/**
 * Numbers at full precision to six digits, and what is rounding alone as 0: another machine's last digits
 * are not the document's.
 */
const steady = (text: string): string =>
  text.replace(/-?\d+\.\d{7,}(e[+-]?\d+)?|-?\d(\.\d+)?e-\d+/g, (number) =>
    Math.abs(Number(number)) < 1e-12 ? "0" : Number(number).toPrecision(6),
  );

/** The netlists that a document shows under a file name. */
const netlistsOf = (text: string): Readonly<Record<string, string>> =>
  Object.fromEntries(
    blocksOf(text).flatMap(({ info, body }) => {
      const name = /^netlist (\S+\.netlist)$/.exec(info)?.[1];
      return name === undefined ? [] : [[name, body]];
    }),
  );

const netlistFiles = () => readdirSync(`${ROOT}netlists`).filter((name) => name.endsWith(".netlist"));

const isConsole = ({ info }: Block) => info === "console";
const consoles = DOCUMENTS.flatMap((path) =>
  blocksOf(textOf(path)).flatMap((block, n) =>
    isConsole(block) && commandsOf(block).some((command) => command.startsWith("npx preprobe"))
      ? [{ path, n, command: commandsOf(block)[0]! }]
      : [],
  ),
);

describe("the commands that the documents show", () => {
  it.each(consoles)("print what $path says they print: $command", async ({ path, n }) => {
    const text = textOf(path);
    const block = blocksOf(text)[n]!;
    const { shown, written } = await transcript(block, netlistsOf(text));
    if (UPDATE) {
      if (steady(block.body) !== steady(shown)) withBody(path, n, shown);
      for (const [file, content] of Object.entries(written)) writeFileSync(ROOT + file, content);
    }
    expect(steady(blocksOf(textOf(path))[n]?.body ?? "")).toBe(steady(shown));
    for (const [file, content] of Object.entries(written)) {
      expect(readFileSync(ROOT + file, "utf8"), file).toBe(content);
    }
  });
});

const suggested = netlistFiles().flatMap((file) =>
  [...textOf(`netlists/${file}`).matchAll(/^#\s+preprobe (\S.*?)(?: {2,}.*)?$/gm)].map(
    ([, command = ""]) => ({
      file,
      command: command.replace(/(\S+\.netlist)/, "netlists/$1"),
    }),
  ),
);

describe("the commands that the demonstration circuits suggest", () => {
  it.each(suggested)("run as $file says: $command", async ({ command }) => {
    const { shown } = await screenAfter(`npx preprobe ${command}`, {});
    // a circuit may show a transistor that runs away; a command may not be wrong
    expect(shown).not.toMatch(/\(exit code (?!1\))/);
  });
});

const tables = DOCUMENTS.flatMap((path) =>
  [...textOf(path).matchAll(/<!-- begin (\S+) -->/g)].map((match) => ({ path, name: match[1]! })),
);

describe("the tables that the code knows better", () => {
  it.each(tables)("stand in $path as the code has them: $name", ({ path, name }) => {
    const made = TABLES[name];
    expect(made, `no table is called ${name}`).toBeDefined();
    const between = new RegExp(`(?<=<!-- begin ${name} -->\n)[\\s\\S]*?(?=<!-- end ${name} -->)`);
    const wanted = `${made?.()}\n`;
    if (UPDATE)
      writeFileSync(
        ROOT + path,
        textOf(path).replace(between, () => wanted),
      );
    expect(between.exec(textOf(path))?.[0]).toBe(wanted);
  });

  it("are all in use", () => {
    expect(tables.map(({ name }) => name).toSorted()).toEqual(Object.keys(TABLES).toSorted());
  });
});

describe("the documents", () => {
  it.each(DOCUMENTS)("lead nowhere but to files that exist: %s", (path) => {
    const links = [...textOf(path).matchAll(/\]\(([^)#\s]+)(#[^)]*)?\)/g)].map(([, target = ""]) => target);
    const local = links.filter((target) => !/^[a-z]+:/.test(target));
    for (const target of local) expect(existsSync(ROOT + join(dirname(path), target)), target).toBe(true);
  });

  it("name the sources of every file of outside checks", () => {
    const files = readdirSync(`${ROOT}tests/outside`).filter((name) => name.endsWith(".test.ts"));
    const listed = [...textOf("docs/sources.md").matchAll(/^\| `(\S+\.test\.ts)`/gm)].map(([, name]) => name);
    expect(listed.toSorted()).toEqual(files.toSorted());
  });

  it("show an example of every kind of part", () => {
    const text = textOf("docs/language.md");
    const shown = blocksOf(text).map(({ body }) => body);
    for (const { keyword } of PART_KINDS) {
      expect(
        shown.some((body) => new RegExp(`^${keyword} `, "m").test(body)),
        keyword,
      ).toBe(true);
    }
  });

  it("show the help of every command", () => {
    const text = textOf("docs/commands.md");
    for (const { name } of COMMANDS) expect(text).toContain(`$ npx preprobe ${name} -h`);
  });

  it("hold netlists that can be read, unless they show what cannot", () => {
    const meantToFail = ["slips.netlist"];
    for (const path of DOCUMENTS) {
      for (const [name, body] of Object.entries(netlistsOf(textOf(path)))) {
        if (meantToFail.includes(name)) continue;
        const { diagnostics } = readNetlist(body, { file: name });
        expect(
          diagnostics.filter(({ severity }) => severity === "error"),
          `${path} ${name}`,
        ).toEqual([]);
      }
    }
  });
});
