import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { expect } from "vitest";

/**
 * Compares text with a file kept beside the tests, for people to look at. `UPDATE=1` in the environment
 * writes the file instead.
 */
export function expectGolden(name: string, text: string): void {
  const path = fileURLToPath(new URL(`golden/${name}`, import.meta.url));
  if (process.env.UPDATE) {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
  }
  expect(existsSync(path), `${name} is missing: run once with UPDATE=1`).toBe(true);
  expect(text).toBe(readFileSync(path, "utf8"));
}
