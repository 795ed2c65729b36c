import { readFileSync } from "node:fs";
import { XMLValidator } from "fast-xml-parser";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { preprobe, STAGE } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));
const MARKED = STAGE.replace("rth 0.4 K/mW", "rth 0.4 K/mW\n    limits vce 15 V ptot 100 mW tj 75 °C");
const files = { "stage.netlist": MARKED };
const TYPES = "PN OC71 AC126 BC557";

describe("preprobe substitute", () => {
  it("prints a table a mode with notes, as kept in golden/substitute.txt", async () => {
    const done = await preprobe(`substitute stage.netlist T1 ${TYPES}`, files);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/substitute.txt");
  });

  it("stays within a narrow terminal", async () => {
    const { out } = await preprobe(`substitute stage.netlist T1 ${TYPES}`, files, { width: 60 });
    expect(out.split("\n").filter((line) => line.length > 60)).toEqual([]);
  });

  it("prints JSON that fits the schema, one result a mode, candidates in one order", async () => {
    const { out } = await preprobe(`substitute stage.netlist T1 ${TYPES} --json`, files);
    const run = JSON.parse(out);
    expect(faults(run, schema)).toEqual([]);
    expect(run.results.map(({ mode }: { mode: string }) => mode)).toEqual(["play", "record"]);
    const [one, other] = run.results.map(({ candidates }: { candidates: { type: string }[] }) =>
      candidates.map(({ type }) => type),
    );
    expect(one).toEqual(other);
    expect(one[0]).toBe("PN");
    expect(Object.keys(run.results[0].fitted.paths)).toEqual(["playback"]);
  });

  it("names the transistors that got the type with the first, and the JSON still fits", async () => {
    const twin = `${MARKED}transistor T2 PN e chassis b T1.b c T1.c\n`;
    const { out } = await preprobe("substitute t.netlist T1,T2 OC71 BC557 --json", { "t.netlist": twin });
    const run = JSON.parse(out);
    expect(faults(run, schema)).toEqual([]);
    expect(run.results[0]).toMatchObject({ part: "T1", also: ["T2"] });
  });

  it("prints a row a mode and type as CSV, the type fitted first", async () => {
    const { out } = await preprobe(`substitute stage.netlist T1 ${TYPES} --csv`, files);
    const rows = out.trim().split("\n");
    expect(rows).toHaveLength(1 + 2 * 5);
    expect(rows[1]).toMatch(/^play,T1,PN,/);
    expect(rows[0]).toContain("playback gain_db,playback change_db,playback low_hertz,playback high_hertz");
  });

  it("draws the response with each type as a sound SVG", async () => {
    const { written } = await preprobe(`substitute stage.netlist T1 ${TYPES} -o types.svg`, files);
    const svg = written["types.svg"]!;
    expect(XMLValidator.validate(svg)).toBe(true);
    for (const name of ["PN", "OC71", "AC126", "BC557"]) expect(svg).toContain(`>${name}<`);
  });

  it("tries with --all every type of the polarity, and none of another or the one fitted", async () => {
    const { out } = await preprobe("substitute stage.netlist T1 --all --mode play --json", files);
    const [{ candidates, left_out }] = JSON.parse(out).results;
    const tried = [...candidates, ...left_out].map(({ type }: { type: string }) => type);
    expect(tried).toEqual(expect.arrayContaining(["OC71", "AC126", "BC557", "AD162"]));
    for (const name of ["PN", "AC127", "OA81"]) expect(tried).not.toContain(name);
    for (const { limits } of candidates) {
      expect(limits.filter((text: string) => text.startsWith("T1:"))).toEqual([]);
    }
  });

  it("fits a sample that grade has written", async () => {
    const test = "--supply 9V --collector 2472 --base 2M2 --open 0.23V --fed 1.33V";
    const { written } = await preprobe(`grade ${test} --name shelf_3 -o sample.netlist`);
    const netlist = { "c.netlist": `${MARKED}use "sample.netlist"\n`, ...written };
    const done = await preprobe("substitute c.netlist T1 shelf_3 --mode play --json", netlist);
    expect(done).toMatchObject({ code: 0, err: "" });
    expect(JSON.parse(done.out).results[0].candidates).toMatchObject([{ type: "shelf_3" }]);
  });
});

describe("what substitute refuses", () => {
  it.each([
    ["substitute", /needs a netlist/],
    ["substitute stage.netlist", /needs a netlist and the name of a transistor/],
    ["substitute stage.netlist T1", /no type to try in place of T1/],
    ["substitute stage.netlist T1,T9 OC71", /no transistor "T9"/],
    ["substitute stage.netlist T9 OC71", /no transistor "T9"/],
    ["substitute stage.netlist R1 OC71", /no transistor "R1"/],
    ["substitute stage.netlist T1 OC711", /a type "OC711"[\s\S]*did you mean OC71/],
    ["substitute stage.netlist T1 AC127", /AC127 is npn, but T1 is pnp/],
    ["substitute stage.netlist T1 OA81", /OA81 is a diode/],
    ["substitute stage.netlist T1 OC71 --all", /leave out OC71/],
  ])("%s", async (words, message) => {
    const done = await preprobe(words, files);
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toMatch(message);
    expect(done.err).not.toMatch(/NaN|undefined|fault in preprobe/);
  });

  it("a drawing where no path goes through the transistor", async () => {
    const text = MARKED.replace(/^path .*$/gm, "");
    const done = await preprobe("substitute s.netlist T1 OC71 -o a.svg", { "s.netlist": text });
    expect(done.code).toBe(2);
    expect(done.err).toMatch(/no path goes through T1/);
  });
});
