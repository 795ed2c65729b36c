import { readFileSync } from "node:fs";
import { XMLValidator } from "fast-xml-parser";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { preprobe, STAGE } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));

const OSCILLATOR = `circuit "Tuned collector"
type HF pnp germanium
    hfe 60 at 1 mA
    ft 10 MHz at 1 mA
battery B1 9 V plus chassis minus rail
resistor R1 18k rail to bias
resistor R2 4k7 bias to chassis
capacitor C1 100n bias to chassis
transistor T1 HF
resistor R3 1k T1.e to chassis
capacitor C2 47n T1.e to chassis
transformer TR1 magnetising 1mH on tank coupling 0.98
    winding tank 60 turns dcr 3 ohm T1.c to rail
    winding base 6 turns dcr 0.5 ohm bias to T1.b
capacitor C3 2n2 T1.c to rail
`;

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
