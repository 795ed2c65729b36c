import { describe, expect, it } from "vitest";
import { preprobe, RUNAWAY, STAGE } from "./desk.ts";

const broken = STAGE.replace("resistor R1 47k", "resitor R1 47k").replace("R4 4k7", "R4 4k7V");
const backwards = STAGE.replace("plus in minus T1.b", "plus T1.b minus in");

describe("preprobe check", () => {
  it("says in a sentence that a netlist is sound", async () => {
    const done = await preprobe("check stage.netlist", { "stage.netlist": STAGE });
    expect(done).toMatchObject({ code: 0, err: "" });
    expect(done.out).toBe("stage.netlist is sound; operating point found in play, record\n");
  });

  it("shows all errors of a file with their lines, and counts them", async () => {
    const done = await preprobe("check bad.netlist", { "bad.netlist": broken });
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toContain("resitor R1 47k");
    expect(done.err).toContain("4k7V");
    expect(done.err).toMatch(/\n\d+ errors, \d+ warnings?\n$/);
  });

  it("finds what only the operating point shows: an electrolytic the wrong way round", async () => {
    const done = await preprobe("check back.netlist", { "back.netlist": backwards });
    expect(done.code).toBe(0);
    expect(done.err).toContain("C1");
    expect(done.out).toBe("0 errors, 1 warning\n");
  });

  it("finds a diode in a place hotter than its junction may be", async () => {
    const text = STAGE.replace(
      "resistor R5",
      "type DN diode germanium\n    limits tj 60 °C\ndiode D1 DN anode out cathode chassis\nresistor R5",
    );
    const warm = await preprobe("check warm.netlist", { "warm.netlist": `ambient 55 °C\n${text}` });
    expect(warm.err).not.toContain("D1");
    const hot = await preprobe("check hot.netlist", { "hot.netlist": `ambient 65 °C\n${text}` });
    expect(hot.err).toContain("D1: the ambient of 65 °C is above the 60 °C that the junction of DN stands");
  });

  it("counts warnings that --quiet keeps to itself", async () => {
    const done = await preprobe("check back.netlist --quiet", { "back.netlist": backwards });
    expect(done).toMatchObject({ code: 0, err: "", out: "0 errors, 1 warning\n" });
  });

  it("reports a mode without a solution as an error, with exit code 1", async () => {
    const done = await preprobe("check hot.netlist", { "hot.netlist": RUNAWAY });
    expect(done.code).toBe(1);
    expect(done.err).toContain("thermal runaway of T1");
    expect(done.out).toMatch(/^1 error, /);
  });

  it("prints warnings and a summary as JSON", async () => {
    const done = await preprobe("check back.netlist --json", { "back.netlist": backwards });
    const run = JSON.parse(done.out);
    expect(run.warnings).toMatchObject([
      { message: expect.stringContaining("C1"), file: "back.netlist", line: 14 },
    ]);
    expect(run.results).toEqual([{ errors: 0, warnings: 1, modes_solved: ["play", "record"] }]);
  });

  it("prints every error as JSON with file, line and column", async () => {
    const done = await preprobe("check bad.netlist --json", { "bad.netlist": broken });
    const { errors } = JSON.parse(done.out);
    expect(errors.length).toBeGreaterThanOrEqual(2);
    for (const error of errors) {
      expect(error).toMatchObject({
        file: "bad.netlist",
        line: expect.any(Number),
        column: expect.any(Number),
      });
    }
  });

  it("lists warnings as comma-separated values", async () => {
    const done = await preprobe("check back.netlist --csv", { "back.netlist": backwards });
    expect(done.out).toMatch(
      /^severity,message,hint,file,line,column\nwarning,.*C1.*,back\.netlist,14,\d+\n$/,
    );
  });

  it("--format prints a layout that formats to itself and reads the same", async () => {
    const once = await preprobe("check stage.netlist --format", { "stage.netlist": STAGE });
    const again = await preprobe("check stage.netlist --format", { "stage.netlist": once.out });
    expect(once).toMatchObject({ code: 0, err: "" });
    expect(again.out).toBe(once.out);
    const json = (text: string) => preprobe("voltages a.netlist --json", { "a.netlist": text });
    expect((await json(once.out)).out).toBe((await json(STAGE)).out);
  });

  it("--format -o writes the file named", async () => {
    const files = { "stage.netlist": STAGE };
    const done = await preprobe("check stage.netlist --format -o stage.netlist", files);
    expect(done.written["stage.netlist"]).toBe((await preprobe("check stage.netlist --format", files)).out);
    expect(done.out).toBe("");
  });
});
