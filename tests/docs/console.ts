/** The commands that the documents show, run as a reader would run them. */
import { closeSync, openSync, readdirSync, readSync } from "node:fs";
import type { Environment } from "../../src/cli/environment.ts";
import { run } from "../../src/cli/run.ts";
import { type Block, ROOT } from "./documents.ts";

/** What a command shows on a terminal and writes to files. */
export interface Screen {
  readonly shown: string;
  readonly written: Readonly<Record<string, string>>;
}

function readWithin(path: string, limit: number): Uint8Array {
  const descriptor = openSync(ROOT + path, "r");
  try {
    const bytes = new Uint8Array(limit);
    return bytes.subarray(0, readSync(descriptor, bytes, 0, limit, 0));
  } finally {
    closeSync(descriptor);
  }
}

function listFolder(path: string): readonly string[] {
  try {
    return readdirSync(ROOT + path);
  } catch {
    return [];
  }
}

/** `| head -n N`, `| tail -n N`, `| grep WORD`: what an example may be piped through. */
function piped(text: string, filter: string): string {
  const lines = text.replace(/\n$/, "").split("\n");
  const [program, ...words] = filter.trim().split(/\s+/);
  const last = words.at(-1) ?? "";
  const kept =
    program === "head"
      ? lines.slice(0, Number(last))
      : program === "tail"
        ? lines.slice(-Number(last))
        : lines.filter((line) => line.includes(last));
  return kept.map((line) => `${line}\n`).join("");
}

/** The words of a command line; what stands in double quotes is one word. */
const wordsOf = (line: string): readonly string[] =>
  Array.from(line.matchAll(/"([^"]*)"|[^\s"]+/g), ([word, quoted]) => quoted ?? word);

/**
 * Runs `npx preprobe …` on the project's files and on the netlists that the document itself shows,
 * `files`. Results go through the pipe, diagnostics stand before them.
 */
export async function screenAfter(command: string, files: Readonly<Record<string, string>>): Promise<Screen> {
  const [first = "", ...filters] = command.split(" | ");
  const out: string[] = [];
  const err: string[] = [];
  const written: Record<string, string> = {};
  const environment: Environment = {
    stdout: (text) => void out.push(text),
    stderr: (text) => void err.push(text),
    readFile: (path, limit) => {
      const own = files[path];
      return own === undefined ? readWithin(path, limit) : new TextEncoder().encode(own);
    },
    writeFile: (path, text) => {
      written[path] = text;
    },
    listFolder,
    width: 100,
    color: false,
    errorColor: false,
  };
  const words = wordsOf(first.replace(/^npx preprobe ?/, ""));
  const code = await run(words, environment);
  const results = filters.reduce(piped, out.join(""));
  const exit = code === 0 || filters.length > 0 ? "" : `(exit code ${code})\n`;
  return { shown: err.join("") + results + exit, written };
}

/** Commands of a `console` block: a line that begins with `$ `, without its output. */
export const commandsOf = ({ body }: Block): readonly string[] =>
  body
    .split("\n")
    .filter((line) => line.startsWith("$ "))
    .map((line) => line.slice(2));

/** What a `console` block must hold, and the files that its commands write. */
export async function transcript(block: Block, files: Readonly<Record<string, string>>): Promise<Screen> {
  let shown = "";
  const written: Record<string, string> = {};
  for (const command of commandsOf(block)) {
    const part = await screenAfter(command, files);
    shown += `$ ${command}\n${part.shown}`;
    Object.assign(written, part.written);
  }
  return { shown, written };
}
