import { readFileSync } from "node:fs";
import { strToU8, zipSync } from "fflate";
import { describe, expect, it, test } from "vitest";
import { expectGolden } from "../report/golden.ts";
import { type Files, preprobe, STAGE } from "./desk.ts";

const file = (name: string) => new Uint8Array(readFileSync(new URL(`worksheets/${name}`, import.meta.url)));

const suspects = (name: string, content: string | Uint8Array, more = "") =>
  preprobe(`suspects stage.netlist --meter 20k/V --readings ${name} --json${more}`, {
    "stage.netlist": STAGE,
    [name]: content,
  });

const taken = (out: string): readonly (readonly [string, number])[] =>
  JSON.parse(out).results[0].readings.map(({ mode, point, taken: value }: Record<string, unknown>) => [
    `${mode}: ${point}`,
    value,
  ]);

/** What was typed into the worksheet: see DEVELOPERS.md for how. */
const TYPED = [
  ["play: T1.e", -0.95],
  ["play: T1.b", -1.1],
  ["play: T1.c", -0.2],
  ["play: feed", -8.9],
  ["record: feed", 0],
  ["record: out", 0.001],
  ["play: B1 current", 0.0021],
  ["play: R4 voltage", 7.9],
];

describe("worksheets as an office program saves them", () => {
  it.each([
    ["filled.fods", "merged, repeated, hidden, localised, computed, remarked and bold cells"],
    ["filled.ods", "the same, packed"],
    ["filled-utf16.txt", "tabs, UTF-16"],
  ])("%s gives the readings that were typed: %s", async (name) => {
    const { code, err, out } = await suspects(name, file(name));
    expect(err).toBe("");
    expect(code).toBe(0);
    expect(taken(out)).toEqual(TYPED);
  });

  it("A packed file is known by its beginning, whatever its ending.", async () => {
    const { out } = await suspects("renamed.fods", file("filled.ods"));
    expect(taken(out)).toEqual(TYPED);
  });

  it("In letters that have no true minus sign one reading is lost, and said to be; the dash of what was not measured is none.", async () => {
    const { code, err } = await suspects("filled.csv", file("filled-western.csv"));
    expect(code).toBe(2);
    expect(err).toContain('row 6, T1.e: "?0,95 V" cannot be read as a voltage');
    expect(err).not.toContain("row 9");
    const mended = new TextDecoder("latin1").decode(file("filled-western.csv")).replace("?0,95 V", "-0,95 V");
    const { out } = await suspects(
      "filled.csv",
      Uint8Array.from(mended, (letter) => letter.charCodeAt(0)),
    );
    expect(taken(out)).toEqual(TYPED);
  });

  it("The worksheet of voltages, as it is written, has no reading in it.", async () => {
    const { written } = await preprobe("voltages stage.netlist -o chart.fods", { "stage.netlist": STAGE });
    const { code, err } = await suspects("chart.fods", written["chart.fods"]!);
    expect(code).toBe(2);
    expect(err).toContain("suspects needs at least one reading");
  });
});

const flat = (rows: string, root = "office:document") =>
  `<${root} xmlns:office="o" xmlns:table="t" xmlns:text="x"><office:body><office:spreadsheet><table:table>${rows}</table:table></office:spreadsheet></office:body></${root}>`;
const row = (...cells: readonly string[]) =>
  `<table:table-row>${cells.map((cell) => (cell.startsWith("<") ? cell : `<table:table-cell><text:p>${cell}</text:p></table:table-cell>`)).join("")}</table:table-row>`;
const HEAD = row("point", "play: reading, V");
const packed = (content: string) => zipSync({ mimetype: strToU8("x"), "content.xml": strToU8(content) });
const laughs = `<!DOCTYPE l [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">]>${flat(row("&b;"))}`;

const HOSTILE: Files = {
  "entities.fods": laughs,
  "entities.ods": packed(laughs),
  "external.fods": `<?xml version="1.0"?><!DOCTYPE l SYSTEM "file:///etc/hostname">${flat(HEAD)}`,
  "truncated.fods": flat(HEAD + row("T1.c", "-3.2")).slice(0, -60),
  "truncated.ods": packed(flat(HEAD).repeat(200)).subarray(0, 150),
  "deep.fods": flat(`${"<table:g>".repeat(60)}${"</table:g>".repeat(60)}`),
  "page.fods": "<html><body><table><tr><td>point</td></tr></table></body></html>",
  "words.fods": `<office:document xmlns:office="o"><office:body><office:text/></office:body></office:document>`,
  "plain.fods": "point,play\nT1.c,-3.2\n",
  "empty.fods": "",
  "binary.fods": new Uint8Array(300).map((_, k) => (k * 37) % 256),
  "binary.csv": new Uint8Array(300).map((_, k) => (k * 37) % 256),
  "other.ods": zipSync({ "xl/workbook.xml": strToU8("<workbook/>") }),
  "broken.ods": packed(flat(HEAD)).map((byte, k) => (k > 90 && k < 140 ? byte ^ 0x55 : byte)),
  "burst.ods": zipSync({ "content.xml": new Uint8Array(30e6).fill(0x20) }, { level: 9 }),
  "large.fods": new Uint8Array(6e6).fill(0x20),
  "locked.ods": file("locked.ods"),
  "date.fods": file("date.fods"),
  "headless.fods": flat(row("T1.c", "-3.2")),
  "modeless.fods": flat(row("point", "reading")),
  "wrong.csv": "point;play;record\nT9.c;-3;\nT1.c;-30;9\nT1.b;x;1\n",
  "impossible.csv": "point;play;record\nT1.c;-30;9\nT1.b;1,2;\n",
  "long.csv": `point,play\n${"T1.c,x\n".repeat(6000)}`,
  "prototype.fods": "<office:document><__proto__>x</__proto__></office:document>",
  "modes.csv": "point,mode,value\nT1.c,pley,-3\nT1.b,,-3\n",
  "book.xlsx": "",
};

test("What is wrong with a file of readings is said in a sentence, and nothing is computed.", async () => {
  const said: string[] = [];
  for (const [name, content] of Object.entries(HOSTILE)) {
    const { code, err, out } = await preprobe(`suspects stage.netlist --readings ${name}`, {
      "stage.netlist": STAGE,
      [name]: content,
    });
    expect([name, code, out]).toEqual([name, 2, ""]);
    said.push(err);
  }
  expectGolden("readings-files.txt", said.join(""));
});

describe("cells", () => {
  it("Endless repetitions end with the paper.", async () => {
    const repeated = `<table:table-row table:number-rows-repeated="1000000000">${row("<table:table-cell table:number-columns-repeated='1000000000'><text:p>-</text:p></table:table-cell>")}</table:table-row>`;
    const wide = `<table:table-row table:number-rows-repeated="1000000000"><table:table-cell><text:p>T1.c</text:p></table:table-cell><table:table-cell table:number-columns-repeated="1000000000"><text:p>-3.2</text:p></table:table-cell></table:table-row>`;
    const { code, out } = await suspects("a.fods", flat(HEAD + repeated + wide));
    expect(code).toBe(0);
    expect(taken(out)).toEqual([["play: T1.c", -3.2]]);
  });

  it("Entities of XML and characters by number are read, no others.", async () => {
    const { out } = await suspects("a.fods", flat(HEAD + row("T1&#46;c", "&#x2212;3.2&#160;V")));
    expect(taken(out)).toEqual([["play: T1.c", -3.2]]);
    const { err } = await suspects("a.fods", flat(HEAD + row("T1.c", "&nbsp;3")));
    expect(err).toContain('"&nbsp;3" cannot be read as a voltage');
  });

  it("A column headed by a mode with its batteries out holds ohms to chassis.", async () => {
    const { out } = await suspects("a.csv", "point,play,play off: reading\nT1.c,-3,\nT1.e,,1k\n");
    expect(taken(out)).toEqual([
      ["play: T1.c", -3],
      ["play off: T1.e", 1000],
    ]);
  });
});
