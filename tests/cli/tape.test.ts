import { readFileSync } from "node:fs";
import { XMLValidator } from "fast-xml-parser";
import { describe, expect, it } from "vitest";
import { IDEAL, PLAIN, SWITCHED } from "../bench/tape-circuits.ts";
import { faults } from "../report/json-schema.ts";
import { preprobe } from "./desk.ts";

const files = {
  "plain.netlist": PLAIN,
  "ideal.netlist": IDEAL,
  "two.netlist": SWITCHED,
  "loss.csv": "hertz,db\n20,0\n20000,6\n",
  "bad.csv": "hertz,db\n1000,0\nlots,6\n",
};
const run = (words: string) => preprobe(`response ${words}`, files);

describe("preprobe response --standard", () => {
  it("prints every preferred frequency, the deviation, and whether it lies inside the field", async () => {
    const done = await run("plain.netlist --standard din-1962 --tape 9.53cm/s");
    expect(done).toMatchObject({ code: 0, err: "" });
    for (const word of [
      "DIN 1962",
      "3180 and 120 µs",
      "9.53 cm/s",
      "31.5",
      "12500",
      "inside the field 3dB",
    ]) {
      expect(done.out).toContain(word);
    }
  });

  it("takes time constants without a speed, and frequencies one by one", async () => {
    const done = await run("plain.netlist --standard inf/70 --at 50,1k --re 315Hz --csv");
    expect(done.out.split("\n")[0]).toBe(
      "hertz,playback gain_db,playback target_db,playback deviation_db,playback least_db,playback greatest_db",
    );
    expect(
      done.out
        .trim()
        .split("\n")
        .map((line) => line.split(",")[0]),
    ).toEqual(["hertz", "50", "1000"]);
  });

  it("marks what lies outside, and names the worst", async () => {
    const done = await run("plain.netlist --standard inf/35 --tape 38cm/s --field 1dB");
    expect(done.out).toContain("outside the field 1dB at");
    expect(done.out).toContain("▼");
  });

  it("draws the curve, its target and its field", async () => {
    const { written } = await run("plain.netlist --standard 3180/90 --field din45500 -o a.svg");
    const svg = written["a.svg"] ?? "";
    expect(XMLValidator.validate(svg)).toBe(true);
    for (const word of ["ideal equaliser", "target", "Deviation from flat", "inside the field DIN 45500"]) {
      expect(svg).toContain(word);
    }
  });
});

describe("preprobe response --compare", () => {
  it("prints both curves, their sum, where they differ most and what the switched parts do", async () => {
    const done = await run("two.netlist --compare playback,recording --points-per-octave 1");
    expect(done).toMatchObject({ code: 0, err: "" });
    for (const word of ["sum", "Switched parts", "C1", "L1", "differs most at"])
      expect(done.out).toContain(word);
    expect(done.out).not.toContain("whole pass");
  });

  it("takes a table of what the medium loses into the whole pass", async () => {
    const done = await run(
      "two.netlist --compare playback,recording --tape-loss loss.csv --at 20,1k,30k --csv",
    );
    const [head = "", ...rows] = done.out
      .trim()
      .split("\n")
      .map((line) => line.split(","));
    const column = (head as string[]).indexOf("whole_pass_db");
    expect(rows.map((row) => row[column] === "")).toEqual([false, false, true]);
  });

  it("draws curves, sum and whole pass", async () => {
    const { written } = await run("two.netlist --compare playback,recording --tape-loss loss.csv -o a.svg");
    expect(XMLValidator.validate(written["a.svg"] ?? "")).toBe(true);
    for (const word of ["playback against recording", "sum", "Whole pass"])
      expect(written["a.svg"]).toContain(word);
  });
});

describe("what --json prints of tape", () => {
  const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));
  it.each([
    "plain.netlist --standard inf/70",
    "ideal.netlist --standard DIN-1962 --tape 9.5cm/s --re 315Hz",
    "plain.netlist --standard 3180/50 --at 20",
    "two.netlist --compare playback,recording",
    "two.netlist --compare playback,recording --tape-loss loss.csv --at 10,1k",
    "plain.netlist --compare playback,playback",
  ])("by response %s fits the published schema", async (words) => {
    const { out } = await run(`${words} --json`);
    expect(faults(JSON.parse(out), schema)).toEqual([]);
    expect(out).not.toMatch(/NaN|Infinity/);
  });
});

describe("questions about tape that cannot be answered as asked", () => {
  it.each([
    ["plain.netlist --standard NOPE --tape 9.53cm/s", "no standard"],
    ["plain.netlist --standard NAB", "needs the speed"],
    ["plain.netlist --standard NAB --tape 12cm/s", "no standard"],
    ["plain.netlist --standard 120/3180", "that of the bass first"],
    ["plain.netlist --standard NAB --tape 9.53", "no speed of a tape"],
    ["plain.netlist --tape 9.53cm/s", "goes with --standard or --compare"],
    ["plain.netlist --field 3dB", "goes with --standard"],
    ["plain.netlist --tape-loss loss.csv", "goes with --compare"],
    ["plain.netlist --standard inf/70 --field wide", "no such tolerance field"],
    ["plain.netlist --standard inf/70 --field 0dB", "no such tolerance field"],
    ["plain.netlist --standard inf/70 --re 0Hz", "above 0 Hz"],
    ["plain.netlist --standard inf/70 --points-per-octave 3", "preferred frequencies"],
    ["plain.netlist --standard inf/70 --from 21 --to 22", "no preferred frequency"],
    ["plain.netlist --standard inf/70 -o a.html", "writes .json .csv .svg"],
    ["plain.netlist --standard inf/70 --compare a,b", "exclude each other"],
    ["ideal.netlist --standard inf/70", "need the speed"],
    ["two.netlist --standard inf/70", "no path starts at a head"],
    ["two.netlist --standard inf/70 --path recording", "starts at G1, not at a head"],
    ["two.netlist --compare playback", "takes two paths"],
    ["two.netlist --compare playback,recordin", 'no path "recordin"'],
    ["two.netlist --compare playback,recording --mode play", "none of the paths"],
    ["two.netlist --compare playback,recording --path playback", "names its paths itself"],
    ["two.netlist --compare playback,recording --tape-loss bad.csv", "bad.csv:3:1"],
    ["two.netlist --compare playback,recording --tape-loss none.csv", "there is no file"],
  ])("are refused in a sentence: response %s", async (words, sentence) => {
    const done = await run(words);
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toContain(sentence);
    expect(done.err).toMatch(/^preprobe: /);
  });
});
