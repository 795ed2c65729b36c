import { describe, expect, it } from "vitest";
import { preprobe, STAGE } from "./desk.ts";

describe("preprobe types", () => {
  it("lists the device library", async () => {
    const done = await preprobe("types");
    expect(done).toMatchObject({ code: 0, err: "" });
    expect(done.out).toMatch(/^type +device/);
    expect(done.out).toMatch(/^LN +pnp germanium/m);
  });

  it("lists the types of a netlist with those of the library", async () => {
    const done = await preprobe("types stage.netlist --json", { "stage.netlist": STAGE });
    const { results } = JSON.parse(done.out) as { results: { type: string }[] };
    const own = results.filter(({ type }) => type === "PN");
    expect(own).toMatchObject([{ type: "PN", device: "pnp", material: "germanium" }]);
    expect(results.map(({ type }) => type)).toContain("LN");
  });

  it("shows one type in full, with what was given, default and derived", async () => {
    const done = await preprobe("types PN stage.netlist", { "stage.netlist": STAGE });
    expect(done.code).toBe(0);
    expect(done.out).toMatch(/^ +hfe +70 at 1\smA +given +current gain$/m);
    expect(done.out).toMatch(/^ +vbe +120\smV at 1\smA +default +base-emitter voltage$/m);
    expect(done.out).toContain("Model parameters at 25 °C");
  });

  it("prints origins and parameters as JSON", async () => {
    const { out } = await preprobe("types PN stage.netlist --json", { "stage.netlist": STAGE });
    const [sheet] = JSON.parse(out).results;
    expect(sheet.figures[0]).toMatchObject({
      figure: "hfe",
      value: 70,
      unit: "number",
      at: 1e-3,
      origin: "given",
    });
    expect(sheet.parameters.forward_gain).toBeCloseTo(70, 12);
  });

  it("prints a row a figure as comma-separated values", async () => {
    const { out } = await preprobe("types PN stage.netlist --csv", { "stage.netlist": STAGE });
    expect(out).toMatch(
      /^type,device,material,figure,value,unit,at,at_unit,origin\nPN,pnp,germanium,hfe,70,/,
    );
  });

  it("answers an unknown type with the nearest", async () => {
    const done = await preprobe("types ln");
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toContain("did you mean LN?");
  });

  it("drops columns on a narrow terminal rather than wrapping", async () => {
    const { out } = await preprobe("types", {}, { width: 60 });
    expect(out.split("\n").filter((line) => line.length > 60)).toEqual([]);
    expect(out).toMatch(/^LN /m);
  });
});
