import { describe, expect, it } from "vitest";
import { preprobe, STAGE } from "./desk.ts";

const files = { "stage.netlist": STAGE };
const run = (more: string | readonly string[], extra: Readonly<Record<string, string>> = {}) =>
  preprobe(["suspects", "stage.netlist", ...(typeof more === "string" ? more.split(" ") : more)], {
    ...files,
    ...extra,
  });

describe("suspects on the command line", () => {
  it("names suspects, what to check and where to measure next", async () => {
    const { code, out } = await run("--reading play:T1.c=-0.2V --meter 20k/V");
    expect(code).toBe(0);
    expect(out).toMatch(/^1\. /m);
    expect(out).toContain("Check: ");
    expect(out).toContain("Measure next");
    expect(out).toContain("Caution: ");
  });

  it.each([
    ["--reading play:T9.c=-3V", 'there is no net or pin "T9.c"'],
    ["--reading pla:T1.c=-3V", "did you mean play?"],
    ["--reading T1.c=-3V", "in which mode?"],
    ["--reading play:T1.c=3V", "wrong sign"],
    ["--reading play:T1.c=-30V", "beyond the supply"],
    ["--reading play:T1.c", "this is no reading"],
    ["--meter 20k/V", "at least one reading"],
    ["--reading play:T1.c=-3V --accuracy 80%", "at most 30 %"],
    ["--readings list.xls", "there is no file"],
  ])("refuses %s in a sentence", async (words, message) => {
    const { code, err, out } = await run(words);
    expect(code).toBe(2);
    expect(out).toBe("");
    expect(err).toContain(message);
  });

  it("takes readings from comma-separated values in either form", async () => {
    const wide = await run("--readings a.csv --json", {
      "a.csv": "point,play,record\nT1.c,-0.2,\nT1.e,-0.1,-0.1\n",
    });
    const long = await run("--readings b.csv --json", {
      "b.csv": 'point;mode;value\nT1.c;play;"-0,2"\nT1.e;play;-0.1\nT1.e;record;-0.1\n',
    });
    const taken = (text: string) =>
      JSON.parse(text).results[0].readings.map((each: { taken: number }) => each.taken);
    expect(taken(wide.out).toSorted()).toEqual([-0.1, -0.1, -0.2]);
    expect(taken(long.out).toSorted()).toEqual(taken(wide.out).toSorted());
  });

  it("reads back the worksheet that voltages writes, filled in", async () => {
    const { written } = await preprobe("voltages stage.netlist -o chart.fods", files);
    const filled = written["chart.fods"]!.replace(
      /(<text:p>T1\.c<\/text:p>[\s\S]*?<text:p>[^<]*<\/text:p>[\s\S]*?<\/table:table-cell>[\s\S]*?<\/table:table-cell>\s*)<table:table-cell table:style-name="value"\/>/,
      '$1<table:table-cell office:value-type="float" office:value="-0.25"><text:p>-0,25</text:p></table:table-cell>',
    );
    expect(filled).not.toBe(written["chart.fods"]);
    const { code, out, err } = await run("--readings chart.fods --json", { "chart.fods": filled });
    expect(err).toBe("");
    expect(code).toBe(0);
    expect(JSON.parse(out).results[0].readings).toMatchObject([
      { mode: "play", point: "T1.c", taken: -0.25 },
    ]);
  });

  it.each([
    ["<a", "damaged"],
    ["<a></a>", "no table"],
    ['<!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>', "document type"],
    ["<a>".repeat(60) + "</a>".repeat(60), "too deep"],
  ])("refuses the worksheet %s", async (text, message) => {
    const { code, err } = await run("--readings chart.fods", { "chart.fods": text });
    expect(code).toBe(2);
    expect(err).toContain(message);
  });

  it("takes other weights from a file, and refuses what is none", async () => {
    const good = await run("--reading play:T1.c=-0.2V --weights w.txt", {
      "w.txt": "# mine\nresistor: open = 9\n",
    });
    expect(good.code).toBe(0);
    const bad = await run("--reading play:T1.c=-0.2V --weights w.txt", { "w.txt": "resistor: opened = 9\n" });
    expect(bad.err).toContain('did you mean "resistor: open"?');
  });

  it("takes currents, drops, ohms and gains as readings", async () => {
    const words = [
      "play: B1 current = 2 mA",
      "play: R4 voltage = 1.2 V",
      "play: gain playback at 1kHz = 30 dB",
      "play off: T1.c = 4k7",
    ];
    const { code, out } = await run(words.flatMap((each) => ["--reading", each]));
    expect(code).toBe(0);
    expect(out).toContain("play off");
  });
});
