import { readFileSync } from "node:fs";
import { XMLValidator } from "fast-xml-parser";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { OSCILLATOR, preprobe, STAGE } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));
const files = { "stage.netlist": STAGE };
const resultsOf = async (words: string) => {
  const done = await preprobe(`hiss stage.netlist ${words} --json`, files);
  expect(done).toMatchObject({ code: 0, err: "" });
  const run = JSON.parse(done.out);
  expect(faults(run, schema)).toEqual([]);
  return run.results;
};

describe("preprobe hiss", () => {
  it("prints levels, contributors and densities, as kept in golden/hiss.txt", async () => {
    const done = await preprobe("hiss stage.netlist --at 63,1k,16k", files);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/hiss.txt");
  });

  it("stays within a narrow terminal", async () => {
    const { out } = await preprobe("hiss stage.netlist", files, { width: 64 });
    expect(out.split("\n").filter((line) => [...line].length > 64)).toEqual([]);
  });

  it("prints JSON that fits the schema, a result a path and mode, shares that add up to 1", async () => {
    const results = await resultsOf("");
    expect(results.length).toBeGreaterThan(0);
    for (const { contributors, hertz, output_volts_per_root_hertz } of results) {
      const sum = contributors.reduce((total: number, { share }: { share: number }) => total + share, 0);
      expect(sum).toBeCloseTo(1, 12);
      expect(output_volts_per_root_hertz).toHaveLength(hertz.length);
      expect(hertz).toEqual(expect.arrayContaining([20, 31.5, 1000, 20000]));
    }
  });

  it("prints as CSV a row for the whole and one for each contributor", async () => {
    const [{ contributors, path, mode }] = await resultsOf("");
    const { out } = await preprobe("hiss stage.netlist --csv", files);
    const rows = out.trim().split("\n");
    expect(rows[0]).toMatch(/^path,mode,part,origin,share,share_a,share_itu_r_468,output_rms,/);
    expect(rows[1]).toMatch(new RegExp(`^${path},${mode},,total,1,1,1,`));
    expect(rows.filter((row) => row.startsWith(`${path},${mode},`))).toHaveLength(1 + contributors.length);
  });

  it("draws the densities as a sound SVG, as kept in golden/hiss.svg", async () => {
    const { written } = await preprobe("hiss stage.netlist -o hiss.svg", files);
    const svg = written["hiss.svg"]!;
    expect(XMLValidator.validate(svg)).toBe(true);
    await expect(svg).toMatchFileSnapshot("golden/hiss.svg");
  });

  it("says that a mode oscillates: its noise is not that of the circuit as it runs", async () => {
    const all = {
      "tank.netlist": `${OSCILLATOR}generator G1 1mV source 100k bias to chassis
mode play
path bias in play from G1 to T1.c
`,
    };
    const { code, out } = await preprobe("hiss tank.netlist --at 1k", all);
    expect(code).toBe(0);
    expect(out).toMatch(/Mode play oscillates at 1\d\d\.\d kHz: its noise is that of the point of rest/);
    const json = JSON.parse((await preprobe("hiss tank.netlist --json", all)).out);
    expect(faults(json, schema)).toEqual([]);
    expect(json.results[0].growing_hertz).toHaveLength(1);
    expect((await preprobe("hiss stage.netlist", files)).out).not.toContain("point of rest");
  });

  it("takes the signal from --emf, of all sources or of one, and else from the generator", async () => {
    const ratio = async (words: string) => (await resultsOf(words))[0].signal_to_noise_db as number;
    const own = await ratio("");
    expect(await ratio("--emf 10mV")).toBeCloseTo(own + 20, 9);
    expect(await ratio("--emf G1=10mV")).toBeCloseTo(own + 20, 9);
  });

  it("adds the power of two bands to that of both together", async () => {
    const power = async (words: string) => (await resultsOf(words))[0].output_volts_rms ** 2;
    const [low, high, whole] = [
      await power("--to 1kHz"),
      await power("--from 1kHz"),
      await power("--from 20 --to 20k"),
    ];
    expect((low + high) / whole).toBeCloseTo(1, 9);
  });
});

describe("what hiss refuses", () => {
  it.each([
    ["hiss", /needs a netlist/],
    ["hiss stage.netlist --from 1k --to 1k", /no band/],
    ["hiss stage.netlist --from 2k --to 1k", /lies above/],
    ["hiss stage.netlist --at 0", /above 0 Hz/],
    ["hiss stage.netlist --emf 0V", /more than 0 V/],
    ["hiss stage.netlist --emf G2=1mV", /no path asked for starts from G2/],
    ["hiss stage.netlist --emf 3kg", /--emf 3kg/],
    ["hiss stage.netlist --path nothing", /no path "nothing"/],
    ["hiss stage.netlist -o a.html", /\.json \.csv \.svg/],
  ])("%s", async (words, message) => {
    const done = await preprobe(words, files);
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toMatch(message);
    expect(done.err).not.toMatch(/NaN|undefined|fault in preprobe/);
  });

  it("a netlist without a path", async () => {
    const text = STAGE.replace(/^path .*$/gm, "");
    const done = await preprobe("hiss s.netlist", { "s.netlist": text });
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toMatch(/no path to follow/);
  });
});
