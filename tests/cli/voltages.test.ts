import { describe, expect, it } from "vitest";
import { preprobe, RUNAWAY, STAGE } from "./desk.ts";

const files = { "stage.netlist": STAGE };

describe("preprobe voltages", () => {
  it("prints a table with a row a transistor and every mode, and nothing on standard error", async () => {
    const done = await preprobe("voltages stage.netlist", files);
    expect(done).toMatchObject({ code: 0, err: "" });
    expect(done.out).toMatch(/T1 +PN/);
    expect(done.out).toMatch(/play.*record/);
  });

  it("prints one JSON object with one result a mode", async () => {
    const done = await preprobe("voltages stage.netlist --json", files);
    const run = JSON.parse(done.out);
    expect(run).toMatchObject({
      format: "preprobe/1",
      command: "voltages",
      circuit: "one stage",
      warnings: [],
    });
    expect(run.results.map(({ mode }: { mode: string }) => mode)).toEqual(["play", "record"]);
    expect(run.results[0].nets.rail.volts).toBeCloseTo(-9, 6);
    expect(run.results[0].transistors.T1.region).toBe("active");
  });

  it("looks at the modes asked for only, in a list or one by one", async () => {
    const modes = async (words: string) =>
      JSON.parse((await preprobe(`voltages stage.netlist --json ${words}`, files)).out).results.map(
        ({ mode }: { mode: string }) => mode,
      );
    expect(await modes("--mode record")).toEqual(["record"]);
    expect(await modes("--mode record,play")).toEqual(["play", "record"]);
    expect(await modes("--mode record --mode=play")).toEqual(["play", "record"]);
  });

  it("works under the conditions asked for", async () => {
    const chart = async (words: string) =>
      JSON.parse((await preprobe(`voltages stage.netlist --json --mode play ${words}`, files)).out)
        .results[0];
    expect((await chart("--set B1=6V")).nets.rail.volts).toBeCloseTo(-6, 6);
    expect((await chart("--ambient 35C")).ambient_celsius).toBeCloseTo(35, 9);
    expect((await chart("--ambient -10C")).ambient_celsius).toBeCloseTo(-10, 9);
    expect((await chart("--isothermal")).transistors.T1.junction_celsius).toBeCloseTo(25, 9);
    expect((await chart("")).transistors.T1.junction_celsius).toBeGreaterThan(25.1);
  });

  it("warns of a value set far outside what the part can be, and keeps it", async () => {
    const done = await preprobe("voltages stage.netlist --set R4=4m7", { "stage.netlist": STAGE });
    expect(done.code).toBe(0);
    expect(done.err).toContain('preprobe: --set R4=4m7: R4: "4m7" is read as 4.7 mΩ');
    expect(done.err).toContain("did you mean 4.7 MΩ?");
    const quiet = await preprobe("voltages stage.netlist --set R4=4m7 --quiet", { "stage.netlist": STAGE });
    expect(quiet.err).toBe("");
  });

  it("shows what a meter would read, which loads the circuit", async () => {
    const done = await preprobe("voltages stage.netlist --json --mode play --meter 20k/V", files);
    const base = JSON.parse(done.out).results[0].nets["T1.b"];
    expect(Math.abs(base.reading_volts)).toBeLessThan(Math.abs(base.volts));
    const fixed = await preprobe("voltages stage.netlist --json --mode play --meter 10M", files);
    const loaded = JSON.parse(fixed.out).results[0].nets["T1.b"];
    expect(Math.abs(loaded.reading_volts)).toBeGreaterThan(Math.abs(base.reading_volts));
  });

  it("writes files by their ending, says so, and then prints nothing", async () => {
    const done = await preprobe("voltages stage.netlist -o a.json -o b.csv -o c.html -o d.fods", files);
    expect(done).toMatchObject({
      code: 0,
      out: "",
      err: "wrote a.json\nwrote b.csv\nwrote c.html\nwrote d.fods\n",
    });
    expect(JSON.parse(done.written["a.json"] ?? "").command).toBe("voltages");
    expect(done.written["b.csv"]).toMatch(/^name,quantity,play,record\n/);
    expect(done.written["c.html"]).toMatch(/^<!doctype html>/i);
    expect(done.written["d.fods"]).toMatch(/^<\?xml/);
  });

  it("reads standard input", async () => {
    expect(await preprobe("voltages -", { "-": STAGE })).toMatchObject({ code: 0, err: "" });
  });

  it("colours for a terminal only, and the text is otherwise the same", async () => {
    const plain = await preprobe("voltages stage.netlist", files);
    const coloured = await preprobe("voltages stage.netlist", files, { color: true });
    // the escape character of ECMA-48
    const sequence = new RegExp(`${String.fromCharCode(27)}\\[[0-9;]*m`, "g");
    expect(plain.out).not.toMatch(sequence);
    expect(coloured.out).toMatch(sequence);
    expect(coloured.out.replace(sequence, "")).toBe(plain.out);
  });

  it("stays within a narrow terminal", async () => {
    const { out } = await preprobe("voltages stage.netlist", files, { width: 60 });
    expect(out.split("\n").filter((line) => line.length > 60)).toEqual([]);
  });
});

describe("a mode without a solution", () => {
  it("is told in a sentence, the others are shown, and the exit code is 1", async () => {
    const done = await preprobe("voltages hot.netlist", { "hot.netlist": RUNAWAY });
    expect(done.code).toBe(1);
    expect(done.err).toMatch(/^preprobe: mode hot: thermal runaway of T1/);
    expect(done.out).toMatch(/cool/);
    expect(done.out + done.err).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("stands as an error at its part beside the results in JSON", async () => {
    const done = await preprobe("voltages hot.netlist --json", { "hot.netlist": RUNAWAY });
    const run = JSON.parse(done.out);
    expect(run.results).toHaveLength(1);
    const line = RUNAWAY.split("\n").findIndex((text) => text.startsWith("transistor T1")) + 1;
    expect(run.errors).toMatchObject([{ message: expect.stringContaining("T1"), file: "hot.netlist", line }]);
  });

  it("makes an error object where no mode has a solution", async () => {
    const done = await preprobe("voltages hot.netlist --mode hot --json", { "hot.netlist": RUNAWAY });
    const run = JSON.parse(done.out);
    expect(done.code).toBe(1);
    expect(Object.keys(run)).toEqual(["format", "command", "errors"]);
    expect(run.errors).toHaveLength(1);
  });
});
