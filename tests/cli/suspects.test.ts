import { describe, expect, it } from "vitest";
import { preprobe, RUNAWAY, STAGE } from "./desk.ts";

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

  it("has an answer where a fault changes what its circuit has no place for", async () => {
    const { code, out } = await preprobe("suspects hot.netlist --reading hot:T1.b=-0.2V", {
      "hot.netlist": RUNAWAY,
    });
    expect(code).toBe(1);
    expect(out).toContain("R1 drifted up");
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
    ["--readings list.ods", "there is no file"],
    ["--readings list.xls", "save it as one of these"],
    ["--reading play:B1.current=12", "did you mean 12mA?"],
    ["--reading play:B1.current=-12mA", "wrong sign"],
    ["--reading play:B1.current=40A", "more than the batteries give"],
    ["--reading play:R4.voltage=30V", "beyond the supply"],
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
      /(<text:p>T1\.c<\/text:p>[\s\S]*?)<table:table-cell table:style-name="room"\/>/,
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

  it("says of all readings at once what is wrong with them, also in JSON", async () => {
    const words = ["play: T9.c = -3V", "play: gain playbak at 1kHz = 3 dB", "play off: T1.c = -4k7"];
    const { code, out } = await run([...words.flatMap((each) => ["--reading", each]), "--json"]);
    expect(code).toBe(2);
    expect(JSON.parse(out).errors.map(({ hint }: { hint: string }) => hint)).toEqual([
      "did you mean T1.c?",
      "did you mean playback?",
    ]);
  });

  it.each([
    ["play: gain playback at 0 Hz = 3 dB", "no frequency of a gain"],
    ["record: gain playback at 1kHz = 3 dB", "is followed in mode play, not in record"],
    ["play: gain playback at 1kHz = 3000 dB", "is no gain"],
    ["play: gain playback at 1kHz = loud", "is no gain"],
    ["play off: T1.c = 0 ohm", "a resistance is above 0"],
    ["play: T1.c minus T1.e minus T1.b = 1V", "nothing to measure"],
    ["play: chassis = 0V", "chassis, from which all is measured"],
    ["play: T1.ic = 1 V", "current"],
  ])("refuses the reading %s", async (text, message) => {
    const { code, err } = await run(["--reading", text]);
    expect([code, err]).toEqual([2, expect.stringContaining(message)]);
  });

  it("says beside its answer that the circuit runs away even without a fault, in the modes read", async () => {
    const ask = (reading: string) =>
      preprobe(["suspects", "hot.netlist", "--reading", reading], { "hot.netlist": RUNAWAY });
    const hot = await ask("hot: T1.b=-0.2V");
    expect(hot.code).toBe(1);
    expect(hot.err).toMatch(/mode hot: thermal runaway of T1 .* that is without any fault/);
    expect(hot.out).toMatch(/R1 drifted up/);
    expect(await ask("cool: T1.b=-0.2V")).toMatchObject({ code: 0, err: "" });
    expect(await ask("hot off: T1.c = 90k")).toMatchObject({ code: 0, err: "" });
  });

  it("takes other weights from a file, and refuses what is none", async () => {
    const good = await run("--reading play:T1.c=-0.2V --weights w.txt", {
      "w.txt": "# mine\nresistor: open = 9\n",
    });
    expect(good.code).toBe(0);
    const bad = await run("--reading play:T1.c=-0.2V --weights w.txt", { "w.txt": "resistor: opened = 9\n" });
    expect(bad.err).toContain('did you mean "resistor: open"?');
  });

  const OTHERS = [
    "play: B1 current = 2 mA",
    "play: R4 voltage = 1,2 V",
    "play: T1.c minus T1.e = \u22120.2 V",
    "record: T1.ic = 1.1mA",
    "play: gain playback at 1kHz = 30 dB",
    "play off: T1.c = 4k7",
  ];

  it("takes currents, drops, differences, ohms and gains as readings", async () => {
    const { code, out } = await run([...OTHERS.flatMap((each) => ["--reading", each]), "--json"]);
    expect(code).toBe(0);
    const readings = JSON.parse(out).results[0].readings;
    const units = readings.map(({ mode, unit, taken }: Record<string, unknown>) => [mode, unit, taken]);
    expect(units).toEqual([
      ["play", "A", 0.002],
      ["play", "V", 1.2],
      ["play", "V", -0.2],
      ["record", "A", -0.0011],
      ["play", "dB", 30],
      ["play off", "Ω", 4700],
    ]);
  });

  it("takes the same as statements of the netlist", async () => {
    const statements = OTHERS.map((text) => `reading ${text.replace(":", "").replace(" =", "")}\n`).join("");
    const stated = await preprobe("suspects stage.netlist --json", {
      "stage.netlist": STAGE + statements.replace("\u2212", "-"),
    });
    const given = await run([...OTHERS.flatMap((each) => ["--reading", each]), "--json"]);
    expect(stated.err).toBe("");
    expect(JSON.parse(stated.out).results).toEqual(JSON.parse(given.out).results);
  });
});
