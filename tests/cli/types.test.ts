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

  it("narrows the list down by polarity, material, voltage, current and speed", async () => {
    const { out } = await preprobe("types --npn --germanium --vce 20V --ic 0.5A --json");
    expect(JSON.parse(out).results.map(({ type }: { type: string }) => type)).toEqual(["AD161"]);
    const fast = JSON.parse((await preprobe("types --ft 500MHz --germanium --json")).out).results;
    expect(fast.map(({ type }: { type: string }) => type)).toEqual(["AF139", "AF239"]);
    expect(await preprobe("types --vce 5kV")).toMatchObject({ code: 2, out: "" });
  });

  it("puts the types of the same polarity in the order of their likeness, the one asked for first", async () => {
    const { out } = await preprobe("types --like OC71 --ic 1mA");
    expect(out).toMatch(/^type +differs/);
    expect(out).toMatch(/\nOC71 +0\.0 /);
    const { results } = JSON.parse((await preprobe("types --like OC71 --ic 1mA --json")).out);
    expect(results[0]).toMatchObject({ type: "OC71", difference: 0, at_amps: 1e-3 });
    expect(new Set(results.map(({ device }: { device: string }) => device))).toEqual(new Set(["pnp"]));
  });

  it("finds complements where the other polarity is asked for", async () => {
    const { results } = JSON.parse((await preprobe("types --like AC128 --npn --json")).out);
    // common practice, no source: AC127 and AC176 stand beside AC128 and AC153 in output stages
    const nearest = results.slice(1, 4).map(({ type }: { type: string }) => type);
    expect(nearest).toContain("AC127");
    expect(nearest).toContain("AC176");
  });

  it("draws, tabulates and lists a type's characteristics", async () => {
    const drawn = await preprobe("types OC71 --curves -o oc71.svg");
    expect(drawn).toMatchObject({ code: 0, out: "", err: "wrote oc71.svg\n" });
    expect(drawn.written["oc71.svg"]).toMatch(/^<svg .*OC71/s);
    expect((await preprobe("types OC71 --curves --ambient 40C")).out).toContain("junction at 40 °C");
    expect((await preprobe("types OC71 --curves --csv")).out).toMatch(
      /^type,curve,ib_amps,vce_volts,ic_amps,hfe\nOC71,output,0,0,/,
    );
    expect((await preprobe("types --like OC71 --csv")).out).toMatch(/^type,device,.*,cautions\nOC71,pnp,/);
  });

  it("shows case and leads where they are known", async () => {
    const { out } = await preprobe("types AC125");
    expect(out).toContain("case: TO-1\nleads: ");
    expect(out).toMatch(/source: .*from memory/s);
  });

  it.each([
    ["types --curves", "draws one type"],
    ["types OA81 --curves", "is a diode"],
    ["types --like OA81", "is a diode"],
    ["types OC71 --like OC72", "one too many"],
    ["types OC71 -o oc71.svg", "nothing to draw"],
    ["types OC71 --ambient 40C", "for --curves only"],
    ["types OC71 --curves --ambient 400C", "give a temperature"],
    ["types OC71 --curves --ic 0mA", "above 0"],
    ["types --like ac128", "did you mean AC128?"],
    ["types XYZZY9", "lists those there are"],
    ["types constructor", "there is no type constructor"],
    ["types constructor stage.netlist", "there is no type constructor"],
  ])("refuses %s and says why", async (line, words) => {
    const done = await preprobe(line, { "stage.netlist": STAGE });
    expect(done).toMatchObject({ code: 2, out: "", written: {} });
    expect(done.err).toContain(words);
  });
});
