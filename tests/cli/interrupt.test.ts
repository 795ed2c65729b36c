import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, it } from "vitest";
import { OSCILLATOR } from "./desk.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "preprobe-"));
const file = (name: string) => join(folder, name);

afterAll(() => rmSync(folder, { recursive: true }));

/** Runs the program until it has told twice how far it has come, sends SIGINT, and waits for its end. */
function interrupted(words: readonly string[]): Promise<{ code: number | null; err: string }> {
  const program = spawn(
    process.execPath,
    ["--import", "tsx", "--import", "./scripts/netlist-loader.mjs", "tests/cli/watched-run.ts", ...words],
    { cwd: root, stdio: ["ignore", "ignore", "pipe"] },
  );
  let err = "";
  let sent = false;
  program.stderr.on("data", (chunk) => {
    err += chunk;
    if (sent || (err.match(/ s of /g)?.length ?? 0) < 2) return;
    sent = true;
    program.kill("SIGINT");
  });
  return new Promise((resolve) => program.on("close", (code) => resolve({ code, err })));
}

describe("Ctrl-C while waveforms are computed", () => {
  it("leaves what has been computed, in every file asked for", async () => {
    writeFileSync(file("oscillator.netlist"), OSCILLATOR);
    const { code, err } = await interrupted([
      "waveform",
      file("oscillator.netlist"),
      "--for",
      "1000s",
      "--every",
      "1ms",
      "--show",
      "T1.c",
      ...["seen.csv", "seen.json", "seen.svg"].flatMap((name) => ["-o", file(name)]),
    ]);
    expect(err).toMatch(/as-drawn: [\d.]+ s of 1000 s/);
    expect(err).toMatch(/interrupted at [\d.]+[mu]?s of 1000s; what was computed until then follows/);
    expect(code).toBe(0);
    const [result] = JSON.parse(readFileSync(file("seen.json"), "utf8")).results;
    expect(result.interrupted_seconds).toBeGreaterThan(0);
    expect(result.interrupted_seconds).toBeLessThan(1000);
    const rows = readFileSync(file("seen.csv"), "utf8").trimEnd().split("\n");
    expect(rows.length).toBe(1 + result.seconds.length);
    expect(readFileSync(file("seen.svg"), "utf8")).toMatch(/Interrupted at .*s\./);
  }, 120_000);
});
