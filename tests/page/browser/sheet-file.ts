/** Sheets written by the command, with the page as it is now. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { preprobe } from "../../cli/desk.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));

let built: string | undefined;

/** The page, bundled once. */
function pageText(): string {
  if (built !== undefined) return built;
  const folder = mkdtempSync(join(tmpdir(), "preprobe-sheet-"));
  const path = join(folder, "page.html");
  execFileSync(process.execPath, ["scripts/build-page.mjs", path], { cwd: root });
  built = readFileSync(path, "utf8");
  rmSync(folder, { recursive: true });
  return built;
}

/** What `preprobe sheet …` writes, given these files. */
export async function sheetFile(files: Readonly<Record<string, string>>, line: string): Promise<string> {
  const { written, err } = await preprobe(`${line} -o out.html`, files, { page: pageText });
  const text = written["out.html"];
  if (text === undefined) throw new Error(err);
  return text;
}
