/** A real browser on the built page, opened as a user opens it: a file, no server. */
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import {
  type Browser,
  type BrowserContext,
  type BrowserContextOptions,
  chromium,
  type Page,
} from "playwright-core";
import { afterAll, afterEach, beforeAll, describe } from "vitest";

const root = fileURLToPath(new URL("../../..", import.meta.url));

/** Debian's browser, or the one that the environment names. */
export const CHROMIUM = [process.env.CHROMIUM, "/usr/bin/chromium"].find(
  (path) => path !== undefined && path !== "" && existsSync(path),
);

export interface Bench {
  /**
   * Opens the page, or another file such as a written sheet, in a window of its own. Whatever the page says went
   * wrong is thrown by `close`.
   */
  readonly open: (options?: BrowserContextOptions & { readonly file?: string }) => Promise<Page>;
  /** A folder for files of the tests. */
  readonly folder: string;
}

/** Tests in a browser; where there is none they are skipped, and their title says so. */
export function describeInBrowser(title: string, tests: (bench: Bench) => void): void {
  const missing = CHROMIUM === undefined;
  const note = missing ? " (skipped: there is no /usr/bin/chromium, and CHROMIUM names none)" : "";
  describe.skipIf(missing)(`${title}${note}`, () => {
    const folder = mkdtempSync(join(tmpdir(), "preprobe-page-"));
    const built = join(folder, "preprobe.html");
    const faults: string[] = [];
    const windows: BrowserContext[] = [];
    let browser: Browser;

    beforeAll(async () => {
      execFileSync(process.execPath, ["scripts/build-page.mjs", built], { cwd: root });
      browser = await chromium.launch({
        executablePath: CHROMIUM!,
        args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"],
      });
    });

    // what is left open goes on computing
    afterEach(async () => {
      await Promise.all(windows.splice(0).map((window) => window.close()));
    });

    afterAll(async () => {
      await browser?.close();
      rmSync(folder, { recursive: true, force: true });
      if (faults.length > 0) throw new Error(`the page complained:\n${faults.join("\n")}`);
    });

    const open: Bench["open"] = async ({ file = built, ...options } = {}) => {
      const window = await browser.newContext(options);
      windows.push(window);
      window.setDefaultTimeout(90_000);
      const page = await window.newPage();
      page.on("pageerror", ({ message }) => void faults.push(message));
      page.on("console", (said) => {
        if (said.type() === "error") faults.push(said.text());
      });
      await page.goto(pathToFileURL(file).href);
      return page;
    };
    tests({ open, folder });
  });
}
