import { describe, expect, it } from "vitest";
import { readFiles } from "../../src/page/compute/netlist.ts";
import { readSheet } from "../../src/page/first-sheet.ts";
import { preprobe, STAGE } from "./desk.ts";

const PAGE = `<title>x</title><script type="application/json" id="sheet-data"></script><script>code</script>`;
const page = () => PAGE;

/** The text of the sheet in a written page, as an HTML parser finds it. */
const dataIn = (html: string): string => /id="sheet-data">(.*?)<\/script/is.exec(html)?.[1] ?? "";

const HOSTILE = STAGE.replace("one stage", () => "</script><!--<script>$& $` 'x'");

describe("preprobe sheet", () => {
  it("writes the page with the circuit and what the options change", async () => {
    const done = await preprobe(
      "sheet one.netlist -o out.html --mode record --set R4=2k2 --ambient 30C --meter 20k/V --isothermal",
      { "one.netlist": STAGE },
      { page },
    );
    expect(done).toMatchObject({ code: 0, out: "", err: "wrote out.html\n" });
    const sheet = readSheet(dataIn(done.written["out.html"]!), "2026-11-25");
    expect(sheet?.main).toBe("one.netlist");
    expect(sheet?.settings).toEqual({
      mode: "record",
      set: [{ part: "R4", key: "resistance", value: 2200 }],
      ambientCelsius: 30,
      meter: "20k/V",
      isothermal: true,
    });
    expect(readFiles(sheet!.files, sheet!.main).circuit?.title).toBe("one stage");
  });

  it("takes the files along that the netlist uses, by where they lie beside it", async () => {
    const [head, ...rest] = STAGE.split("battery");
    const files = {
      "set/one.netlist": `use "types/pn.netlist"\nbattery${rest.join("battery")}`,
      "set/types/pn.netlist": head!,
      "set/elsewhere.netlist": "nothing",
    };
    const { written } = await preprobe("sheet set/one.netlist -o out.html", files, { page });
    const sheet = readSheet(dataIn(written["out.html"]!))!;
    expect(Object.keys(sheet.files).toSorted()).toEqual(["one.netlist", "types/pn.netlist"]);
    expect(readFiles(sheet.files, sheet.main).circuit?.parts.length).toBeGreaterThan(5);
  });

  it("holds hostile text without letting it end the element that it stands in", async () => {
    const { written } = await preprobe("sheet one.netlist -o out.html", { "one.netlist": HOSTILE }, { page });
    const html = written["out.html"]!;
    expect(html.match(/<\/script/gi)).toHaveLength(2);
    expect(html).not.toContain("<!--");
    expect(readSheet(dataIn(html))?.files["one.netlist"]).toBe(HOSTILE);
  });

  it("asks for a file to write", async () => {
    const done = await preprobe("sheet one.netlist", { "one.netlist": STAGE }, { page });
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toContain("sheet needs -o");
  });

  it("says so where the page has not been built", async () => {
    const done = await preprobe("sheet one.netlist -o out.html", { "one.netlist": STAGE });
    expect(done).toMatchObject({ code: 2, written: {} });
    expect(done.err).toContain("npm run build");
  });

  it("refuses a netlist with errors, a mode that is none and a meter that is none", async () => {
    for (const [line, text] of [
      ["sheet one.netlist -o out.html", "resistor R1"],
      ["sheet one.netlist -o out.html --mode nowhere", STAGE],
      ["sheet one.netlist -o out.html --meter nonsense", STAGE],
    ] as const) {
      const done = await preprobe(line, { "one.netlist": text }, { page });
      expect(done, line).toMatchObject({ code: 2, written: {} });
    }
  });
});
