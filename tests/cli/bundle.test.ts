import { execFileSync, spawn, spawnSync } from "node:child_process";
import {
  existsSync,
  mkdtempSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { STAGE } from "./desk.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));
const bundle = join(root, "dist/cli.cjs");
const folder = mkdtempSync(join(tmpdir(), "preprobe-"));
const netlist = join(folder, "stage.netlist");

/** Whether any source is newer than what was built from it. */
function stale(): boolean {
  if (!existsSync(bundle)) return true;
  const built = statSync(bundle).mtimeMs;
  const sources = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" });
  return sources.some((name) => statSync(join(root, "src", name)).mtimeMs > built);
}

beforeAll(() => {
  if (stale()) execFileSync(process.execPath, ["scripts/build.mjs"], { cwd: root });
  writeFileSync(netlist, STAGE);
}, 120_000);

afterAll(() => rmSync(folder, { recursive: true }));

const child = (words: readonly string[], more: { input?: string; env?: Record<string, string> } = {}) =>
  spawnSync(process.execPath, [bundle, ...words], {
    cwd: folder,
    encoding: "utf8",
    input: more.input ?? "",
    env: { PATH: process.env.PATH, ...more.env },
  });

describe("the built program", () => {
  it("solves a file and standard input alike", () => {
    const fromFile = child(["voltages", netlist]);
    expect(fromFile).toMatchObject({ status: 0, stderr: "" });
    expect(fromFile.stdout).toContain("T1");
    expect(child(["voltages", "-"], { input: STAGE }).stdout).toBe(fromFile.stdout);
  });

  it("carries the device library with it", () => {
    expect(child(["types", "LN"])).toMatchObject({ status: 0, stderr: "" });
  });

  it("ends with 2 and a sentence on files that are none, whatever kind of none", () => {
    writeFileSync(join(folder, "empty.netlist"), "");
    writeFileSync(join(folder, "huge.netlist"), Buffer.alloc(50 * 2 ** 20, 97));
    const cases = [
      ["missing.netlist"],
      [folder],
      [process.execPath],
      ["empty.netlist"],
      ["huge.netlist"],
      ["/dev/null/x"],
    ];
    for (const [file] of cases) {
      const done = child(["voltages", file ?? ""]);
      expect(done, file).toMatchObject({ status: 2, stdout: "" });
      expect(done.stderr, file).toMatch(/^(preprobe|empty\.netlist:1:1: error): .*\n/);
      expect(done.stderr, file).not.toMatch(/\n {4}at |fault/);
    }
  });

  it("writes files, and says why where it cannot", () => {
    expect(child(["response", netlist, "-o", "bode.svg"])).toMatchObject({
      status: 0,
      stderr: "wrote bode.svg\n",
    });
    expect(readFileSync(join(folder, "bode.svg"), "utf8")).toContain("<svg");
    const refused = child(["response", netlist, "-o", "nowhere/bode.svg"]);
    expect(refused).toMatchObject({ status: 2, stdout: "" });
    expect(refused.stderr).toBe("preprobe: nowhere/bode.svg cannot be written: its folder does not exist\n");
  });

  it.skipIf(!existsSync("/dev/full"))("says in a sentence that its output cannot be written", () => {
    const full = openSync("/dev/full", "w");
    const done = spawnSync(process.execPath, [bundle, "voltages", netlist], {
      encoding: "utf8",
      stdio: ["ignore", full, "pipe"],
    });
    expect(done).toMatchObject({
      status: 2,
      stderr: "preprobe: the output cannot be written: the disk is full\n",
    });
  });

  it("writes the same to a file as to a pipe", () => {
    const path = join(folder, "chart.txt");
    const file = openSync(path, "w");
    spawnSync(process.execPath, [bundle, "voltages", netlist], { stdio: ["ignore", file, "ignore"] });
    expect(readFileSync(path, "utf8")).toBe(child(["voltages", netlist]).stdout);
  });

  it("gives a command in a bundle of its own the help that the whole program gives", () => {
    for (const name of ["check", "voltages"]) {
      expect(child([name, "--help"]).stdout).toBe(child(["help", name]).stdout);
    }
  });

  it("lays out for the columns that COLUMNS says", () => {
    const { stdout } = child(["voltages", netlist], { env: { COLUMNS: "60" } });
    expect(stdout.split("\n").filter((line) => line.length > 60)).toEqual([]);
  });

  it("stays silent when nobody reads its output to the end", async () => {
    const program = spawn(process.execPath, [
      bundle,
      "response",
      netlist,
      "--points-per-octave",
      "192",
      "--json",
    ]);
    let complaint = "";
    program.stderr.on("data", (chunk) => {
      complaint += chunk;
    });
    program.stdout.destroy();
    const code = await new Promise((resolve) => program.on("close", resolve));
    expect(complaint).toBe("");
    expect(code).toBe(0);
  });
});

describe("the built library", () => {
  it("needs no Node module, so that a browser can load it", () => {
    // `function __require()` is the bundler's own wrapper of a library in the older module format
    const calls = /from\s*"(node:|[a-z])|(?<!function __)require\(/;
    expect(readFileSync(join(root, "dist/index.js"), "utf8")).not.toMatch(calls);
  });

  it("solves a netlist and gives complex gains", async () => {
    const preprobe = await import(join(root, "dist/index.js"));
    const { circuit } = preprobe.readNetlist(STAGE);
    const { results } = preprobe.response(circuit, { hertz: [1000], modes: ["play"] });
    const [path] = results;
    expect(20 * Math.log10(path.gain[0].abs())).toBeCloseTo(path.gain_db[0], 9);
  });

  it("has types that a strict consumer resolves through the package's exports", () => {
    const consumer = `
import { type Circuit, operatingPoint, readNetlist, response } from "preprobe";
const circuit: Circuit | undefined = readNetlist("").circuit;
if (circuit !== undefined) {
  const amps: number | undefined = operatingPoint(circuit).results[0]?.transistors["T1"]?.ic_amps;
  const gain: number | undefined = response(circuit, { hertz: [1000] }).results[0]?.gain[0]?.abs();
  // @ts-expect-error there is no such option
  response(circuit, { kilohertz: [1] });
  console.log(amps, gain);
}
`;
    writeFileSync(join(root, "dist/consumer.ts"), consumer);
    const options = ["--noEmit", "--strict", "--module", "nodenext", "--target", "es2022", "--ignoreConfig"];
    const done = spawnSync("npx", ["tsc", ...options, "dist/consumer.ts"], { cwd: root, encoding: "utf8" });
    rmSync(join(root, "dist/consumer.ts"));
    expect(done.stdout).toBe("");
    expect(done.status).toBe(0);
  }, 60_000);
});
