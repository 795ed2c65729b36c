import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { OUTPUT_PAIR } from "../bench/power/output-pair.ts";
import { faults } from "../report/json-schema.ts";
import { preprobe } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));

const files = {
  "pair.netlist": `circuit "output pair"\n${OUTPUT_PAIR}path         drive from G1 to upper\n`,
  "lamp.netlist": "battery B1 6 V plus a minus chassis\nlamp LA1 6 V 50 mA a to chassis\n",
};

describe("preprobe power", () => {
  it("prints what is kept in golden/power.txt, which is there to be read", async () => {
    const done = await preprobe("power pair.netlist --each P1=10%,30%", files);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/power.txt");
  });

  it("draws what is kept in golden/power.svg", async () => {
    const { code, written } = await preprobe("power pair.netlist --ambient 5C,25C -o cold.svg", files);
    expect(code).toBe(0);
    await expect(written["cold.svg"]).toMatchFileSnapshot("golden/power.svg");
  });

  it("prints JSON that fits the published schema", async () => {
    const { out } = await preprobe("power pair.netlist --json", files);
    expect(faults(JSON.parse(out), schema)).toEqual([]);
  });

  it("writes a row a level as CSV", async () => {
    const { out } = await preprobe("power pair.netlist --emf 0.1V..1V --points 3 --csv", files);
    const rows = out.trimEnd().split("\n");
    expect(rows[0]).toMatch(/^path,mode,variant,ambient_celsius,hertz,emf_volts_rms,/);
    expect(rows[1]).toMatch(/^output,as-drawn,,25,1000,0.1,/);
    expect(rows.length).toBeGreaterThanOrEqual(1 + 3);
  });

  it("follows the paths to a loudspeaker unless another is asked for", async () => {
    const usual = await preprobe("power pair.netlist --emf 0.1V..1V --points 2", files);
    expect(usual.out).not.toContain("drive in as-drawn");
    const asked = await preprobe("power pair.netlist --emf 0.1V..1V --points 2 --path drive", files);
    expect(asked.out).toContain("drive in as-drawn");
    expect(asked.out).not.toContain("efficiency");
  });

  it("goes through each value with each temperature", async () => {
    const command = "power pair.netlist --each P1=10%,20% --ambient 10C,25C --emf 0.1V..0.1V --json";
    const { out } = await preprobe(command, files);
    const names = JSON.parse(out).results.map(({ variant }: { variant: string }) => variant);
    expect(names).toEqual(["P1 10%, 10 °C", "P1 10%, 25 °C", "P1 20%, 10 °C", "P1 20%, 25 °C"]);
  });

  it("says which of several settings runs away, and shows the others", async () => {
    const { code, out, err } = await preprobe("power pair.netlist --each P1=20%,70% --emf 0.1V..0.1V", files);
    expect(code).toBe(1);
    expect(err).toContain("P1 70%: mode as-drawn: thermal runaway");
    expect(out).toContain("P1 20%");
  });

  it("fits a terminal of 100 columns", async () => {
    const { out } = await preprobe("power pair.netlist", files, { width: 100 });
    expect(out.split("\n").filter((line) => [...line].length > 100)).toEqual([]);
  });

  it.each([
    ["power lamp.netlist", "the netlist names no path to follow"],
    ["power pair.netlist --each P1", "--each P1: not a list of settings"],
    ["power pair.netlist --each P1=10%,", "--each P1=10%,: not a list of settings"],
    ["power pair.netlist --each P9=10%", "--each P9=10%: "],
    ["power pair.netlist --emf 5mV..1mV", "--emf 5mV..1mV: the range goes down"],
    ["power pair.netlist --emf 0..1mV", "--emf 0..1mV: a signal has more than 0 V"],
    ["power pair.netlist --points 5", "--points counts the levels of --emf"],
    ["power pair.netlist --tone 0Hz", "--tone 0Hz"],
    ["power pair.netlist --ambient 200C", "--ambient 200C: no circuit works there"],
    ["power pair.netlist --path output --mode none", 'the netlist has no mode "none"'],
  ])("%s is refused in a sentence", async (command, sentence) => {
    const { code, err } = await preprobe(command, files);
    expect(code).toBe(2);
    expect(err).toContain(sentence);
  });
});

describe("an interrupted run of power", () => {
  it("keeps the levels done, looks for no limit, and says so", async () => {
    let looks = 0;
    const { code, out } = await preprobe("power pair.netlist --emf 0.1V..10V --points 9", files, {
      interrupted: () => ++looks > 2,
    });
    expect(code).toBe(0);
    expect(out).toContain("Interrupted: higher levels were not looked at.");
    expect(out).not.toContain("does not clip");
    expect(out.split("\n").filter((line) => /^\d.* EMF|^\d.* dB /.test(line)).length).toBe(3);
  });
});
