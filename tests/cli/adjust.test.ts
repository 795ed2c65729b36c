import { describe, expect, it } from "vitest";
import { preprobe, STAGE } from "./desk.ts";

const files = { "stage.netlist": STAGE };
const adjust = (part: string, until: string, ...more: string[]) =>
  preprobe(["adjust", "stage.netlist", part, "--until", until, ...more], files);

describe("adjust", () => {
  it("prints what it found as kept beside this test", async () => {
    const done = await adjust("R2", "T1.c = -4 V", "--mode", "play");
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/adjust.txt");
  });

  it("prints how near it came where nothing meets the condition, and ends with 1", async () => {
    const done = await adjust("R2", "T1.c = -40 V", "--mode", "play");
    expect(done.code).toBe(1);
    expect(done.err).toContain("mode play: nothing in the range of R2 meets T1.c = -40 V");
    await expect(done.out).toMatchFileSnapshot("golden/adjust-unmet.txt");
  });

  it("looks at a gain in the mode of its path", async () => {
    const done = await adjust("R4", "gain recording at 1kHz = 10 dB", "--json");
    expect(JSON.parse(done.out).results).toMatchObject([{ mode: "record", met: true, unit: "decibel" }]);
    expect(JSON.parse(done.out).results[0].achieved).toBeCloseTo(10, 6);
    const elsewhere = await adjust("R4", "gain recording at 1kHz = 10 dB", "--mode", "play");
    expect(elsewhere.err).toContain("the path recording is followed in record");
  });

  it("writes CSV and a drawing", async () => {
    const done = await adjust("R2", "T1.c = -4 V", "--mode", "play", "-o", "a.csv", "-o", "a.svg");
    const rows = done.written["a.csv"]!.trimEnd().split("\n");
    expect(rows[0]).toBe("mode,part,key,what,value,value_unit,reading,reading_unit");
    expect(rows.map((row) => row.split(",")[3]).slice(1, 6)).toEqual(["found", "E6", "E12", "E24", "curve"]);
    await expect(done.written["a.svg"]!).toMatchFileSnapshot("golden/adjust.svg");
  });

  it("keeps to the range given", async () => {
    const done = await adjust("R2", "T1.c = -4 V", "--from", "1k", "--to", "2k", "--mode", "play", "--json");
    const { curve, met } = JSON.parse(done.out).results[0];
    expect([curve.x[0], curve.x.at(-1)]).toEqual([1000, 2000]);
    expect(met).toBe(true);
  });

  it.each([
    ["R2", "T1.c -4V", "no = and no value"],
    ["R2", "T1.c =", "a value is missing behind ="],
    ["R2", "T1.x = 4V", "T1 has no x to look at"],
    ["R2", "T1.ic = 4V", "is a voltage"],
    ["R2", "T9.c = 4V", "there is no net or pin T9.c"],
    ["R2", "T9.ic = 4mA", "there is no transistor T9"],
    ["R2", "gain playbock at 1kHz = 3 dB", "did you mean playback?"],
    ["R2", "gain playback = 3 dB", "gain of what, and where?"],
    ["R2", "gain playback at 1kHz = -3", "a ratio is above 0"],
    ["R2", "least T1.c = 4 V", "least takes no value"],
    ["R2", "least |out|", "the size of a signal needs a frequency"],
    ["R2", "least |out| at 0Hz", "a frequency is above 0 Hz"],
    ["R2", "R9 current = 1 mA", "there is no part R9"],
    ["R22", "T1.c = -4V", "there is no part R22 to turn"],
    ["S1", "T1.c = -4V", "S1 has no setting"],
    ["R2.esr", "T1.c = -4V", "it has R2.resistance"],
  ])("refuses to turn %s until %s", async (part, until, why) => {
    const done = await adjust(part, until);
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toContain(why);
  });

  it.each(["adjust", "adjust stage.netlist", "adjust stage.netlist R2", "adjust stage.netlist R2 R3"])(
    "says how it is used, given only %s",
    async (words) => {
      const done = await preprobe(words, files);
      expect(done.code).toBe(2);
      expect(done.err).toContain('→ preprobe adjust FILE P2 --until "T6.ic = 5 mA"');
    },
  );
});
