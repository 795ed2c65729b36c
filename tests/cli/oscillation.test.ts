import { readFileSync } from "node:fs";
import { XMLValidator } from "fast-xml-parser";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { OSCILLATOR, preprobe, STAGE } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));

const files = { "stage.netlist": STAGE, "tank.netlist": OSCILLATOR };

describe("preprobe oscillation", () => {
  it("tells what grows, from what on, and where it settles", async () => {
    const { code, err, out } = await preprobe("oscillation tank.netlist", files);
    expect({ code, err }).toEqual({ code: 0, err: "" });
    for (const words of ["It oscillates at", "C3", "TR1", "T1", "It still starts with hfe", "It settles at"])
      expect(out).toContain(words);
    expect(Math.max(...out.split("\n").map((line) => [...line].length))).toBeLessThanOrEqual(100);
  });

  it("says so where nothing grows", async () => {
    const { out } = await preprobe("oscillation stage.netlist", files);
    expect(out).toContain("Nothing grows");
    expect(out).not.toContain("It settles");
  });

  it("tells the levels of the nets asked for, by name or by pin", async () => {
    const { out } = await preprobe("oscillation tank.netlist --at bias,C3.1 --json", files);
    const { nets } = JSON.parse(out).results[0].growing[0].steady;
    expect(Object.keys(nets).sort()).toEqual(["T1.c", "bias"]);
  });

  it("refuses a net that is not there and names the nearest", async () => {
    const { code, err } = await preprobe("oscillation tank.netlist --at bais", files);
    expect(code).toBe(2);
    expect(err).toContain("did you mean bias?");
  });

  it.each(["tank.netlist", "stage.netlist", "tank.netlist --margins", "stage.netlist --margins"])(
    "prints JSON of %s that fits the schema",
    async (words) => {
      const { out } = await preprobe(`oscillation ${words} --json`, files);
      expect(faults(JSON.parse(out), schema)).toEqual([]);
    },
  );

  it("prints a row a natural frequency as CSV, fastest growing first", async () => {
    const { out } = await preprobe("oscillation tank.netlist --csv", files);
    const [head, first, second] = out.split("\n").map((line) => line.split(","));
    expect(head).toEqual(["mode", "hertz", "growth_per_second", "q", "parts"]);
    expect(Number(first![2])).toBeGreaterThan(Number(second![2]));
  });

  it("draws a well-formed map that says what grows", async () => {
    const { written } = await preprobe("oscillation tank.netlist -o map.svg", files);
    expect(XMLValidator.validate(written["map.svg"]!)).toBe(true);
    expect(written["map.svg"]).toContain("It oscillates at");
  });
});
