import { readFileSync } from "node:fs";
import { XMLValidator } from "fast-xml-parser";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { preprobe } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));
const TEST = "--supply 9V --collector 2472 --base 2M2";
const ONE = `grade ${TEST} --open 0.23V --fed 1.33V`;
const DRAWER = `sample,open,fed,temperature
# from the drawer
A1,0.23V,1.33V,22C
A2,0.31,1.70V,22C
A3,0.62V,2.3V,22C
A4,93uA,610uA,25C
`;
const files = { "drawer.csv": DRAWER };
const results = (out: string) => JSON.parse(out).results;

describe("preprobe grade", () => {
  it("prints one sample in full, with its block, as kept in golden/grade-one.txt", async () => {
    const done = await preprobe(`${ONE} --temperature 22C --like OC71`);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/grade-one.txt");
  });

  it("prints several in a table with their pairs, as kept in golden/grade-drawer.txt", async () => {
    const done = await preprobe(`grade drawer.csv ${TEST} --like OC71`, files);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/grade-drawer.txt");
  });

  it("stays within a narrow terminal", async () => {
    for (const words of [ONE, `grade drawer.csv ${TEST} --like OC71`]) {
      const { out } = await preprobe(words, files, { width: 72 });
      const table = out.slice(0, out.includes("\ntype ") ? out.indexOf("\ntype ") : undefined);
      expect(table.split("\n").filter((line) => line.length > 72)).toEqual([]);
    }
  });

  it("takes a reading as drop, as voltage across the transistor, or as current, and finds the same", async () => {
    const hfe = async (words: string) => {
      const { out } = await preprobe(`grade --supply 9V --base 2M2 --json ${words}`);
      return results(out)[0].measured.hfe;
    };
    const drop = await hfe("--collector 2k5 --open 0.25V --fed 1.25V");
    expect(await hfe("--collector 2k5 --across transistor --open 8.75V --fed 7.75V")).toBeCloseTo(drop, 9);
    expect(await hfe("--collector 2k5 --open 100uA --fed 0.5mA")).toBeCloseTo(drop, 9);
    expect(await hfe("--open 100uA --fed 0.5mA")).toBeCloseTo(drop, 9);
  });

  it("takes polarity and material from the type, or from the options", async () => {
    const kind = async (words: string) => {
      const [{ device, material }] = results((await preprobe(`${ONE} --json ${words}`)).out);
      return `${device} ${material}`;
    };
    expect(await kind("")).toBe("pnp germanium");
    expect(await kind("--npn")).toBe("npn germanium");
    expect(await kind("--npn --silicon")).toBe("npn silicon");
    expect(await kind("--like AC127")).toBe("npn germanium");
  });

  it("writes a block that check finds sound and that substitute can fit", async () => {
    const done = await preprobe(`${ONE} --like OC71 --name shelf_3 -o sample.netlist`);
    expect(done.err).toBe("wrote sample.netlist\n");
    const block = done.written["sample.netlist"]!;
    expect(block).toMatch(/^type {2}shelf_3 {2}pnp germanium$/m);
    const circuit = `use "sample.netlist"
battery B1 9V plus chassis minus rail
transistor T1 shelf_3 e chassis
resistor R1 2472 ohm rail to T1.c
resistor R2 2M2 rail to T1.b
`;
    const checked = await preprobe("check c.netlist", { "sample.netlist": block, "c.netlist": circuit });
    expect(checked).toMatchObject({ code: 0, err: "" });
  });

  it("prints JSON that fits the schema, and a row a sample as CSV", async () => {
    const json = await preprobe(`grade drawer.csv ${TEST} --like OC71 --json`, files);
    expect(faults(JSON.parse(json.out), schema)).toEqual([]);
    const csv = await preprobe(`grade drawer.csv ${TEST} --like OC71 --csv`, files);
    const [head, ...rows] = csv.out.trim().split("\n");
    expect(rows).toHaveLength(4);
    expect(rows.map((row) => row.split(",").length)).toEqual(rows.map(() => head!.split(",").length));
  });

  it("draws hfe against leakage as a sound SVG that names every sample", async () => {
    const { written } = await preprobe(`grade drawer.csv ${TEST} --like OC71 -o drawer.svg`, files);
    const svg = written["drawer.svg"]!;
    expect(XMLValidator.validate(svg)).toBe(true);
    for (const name of ["A1", "A2", "A3", "A4", "spread of OC71"]) expect(svg).toContain(`>${name}<`);
  });

  it("reads semicolons, quotes and decimal commas", async () => {
    const text = '"sample";"open";"fed"\n"A1";0,23V;"1,33 V"\n';
    const done = await preprobe(`grade d.csv ${TEST} --json`, { "d.csv": text });
    const [one] = results(done.out);
    expect(one.measured).toEqual(results((await preprobe(`${ONE} --json`)).out)[0].measured);
  });
});

describe("what grade refuses", () => {
  it.each([
    ["grade", /needs --supply/],
    [`grade --supply 9V --collector 2k4 --open 0.2V --fed 1V`, /needs --base/],
    [`grade ${TEST} --fed 1V`, /needs --open/],
    [`grade ${TEST} --open 0.2V`, /needs --fed/],
    ["grade --supply 9V --base 2M2 --open 0.2V --fed 1V", /a voltage needs --collector/],
    [`${ONE} --like AC12`, /no type "AC12"[\s\S]*did you mean/],
    [`${ONE} --like OA81`, /OA81 is a diode/],
    [`${ONE} --like AC126 --npn`, /AC126 is pnp, not npn/],
    [`${ONE} --like AC126 --silicon`, /AC126 is germanium/],
    [`${ONE} --pnp --npn`, /exclude each other/],
    [`${ONE} --temperature 300C`, /nobody tests/],
    [`${ONE} --across diode`, /across the resistor or across the transistor/],
    [`${ONE} --name a:b`, /no name for a sample/],
    ["grade --supply 0V --collector 2k --base 2M2 --open 0.2V --fed 1V", /more than 0/],
    [`grade a.csv b.csv ${TEST}`, /one file of samples/],
    [`grade drawer.csv ${TEST} --open 1V`, /exclude each other/],
    [`grade empty.csv ${TEST}`, /empty/],
    [`grade head.csv ${TEST}`, /has no samples/],
    [`grade columns.csv ${TEST}`, /a column "colour"/],
    [`grade few.csv ${TEST}`, /no column "fed"/],
    [`grade gap.csv ${TEST}`, /gap.csv, line 3: no fed is given/],
    [`grade twice.csv ${TEST}`, /two samples called A1/],
    [`grade nowhere.csv ${TEST}`, /nowhere.csv/],
  ])("%s", async (words, message) => {
    const done = await preprobe(words, {
      ...files,
      "empty.csv": "\n",
      "head.csv": "sample,open,fed\n",
      "columns.csv": "sample,open,fed,colour\nA,1,2,red\n",
      "few.csv": "sample,open\nA,1\n",
      "gap.csv": "sample,open,fed\nA1,0.2V,1V\nA2,0.2V,\n",
      "twice.csv": "sample,open,fed\nA1,0.2V,1V\nA1,0.2V,1V\n",
    });
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toMatch(message);
    expect(done.err).not.toMatch(/NaN|undefined|fault in preprobe/);
  });

  it("readings that no transistor gives, with the reason, and as JSON too", async () => {
    const words = `grade ${TEST} --open 1.4V --fed 1.1V`;
    const plain = await preprobe(words);
    expect(plain).toMatchObject({ code: 2, out: "" });
    expect(plain.err).toMatch(/^preprobe: sample: feeding the base draws no more/);
    const { out } = await preprobe(`${words} --json`);
    expect(faults(JSON.parse(out), schema)).toEqual([]);
  });

  it("one sample of several, while the others are graded", async () => {
    const text = `${DRAWER}A5,10V,11V,25C\n`;
    const done = await preprobe(`grade d.csv ${TEST} --json`, { "d.csv": text });
    expect(done.code).toBe(2);
    expect(results(done.out)).toHaveLength(4);
    expect(JSON.parse(done.out).errors).toMatchObject([{ message: expect.stringContaining("A5") }]);
    expect(faults(JSON.parse(done.out), schema)).toEqual([]);
  });
});
