import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { preprobe } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));

const files = {
  "motor.netlist": `circuit "governed motor"
battery        B1  7 V plus feed minus chassis
governor       GV1 of M1 opens 2400 rpm closes 2380 rpm feed to rail
resistor       R1  47R feed to rail
motor          M1  18 ohm emf 2.1 mV/rpm inertia 40 gcm2 drag 0.4 mNm load 0.6 mNm plus rail minus chassis
`,
  "lamp.netlist": "battery B1 6 V plus a minus chassis\nlamp LA1 6 V 50 mA a to chassis\n",
};

describe("preprobe regulation", () => {
  it("prints what is kept in golden/regulation.txt, which is there to be read", async () => {
    const done = await preprobe("regulation motor.netlist --battery 4V..9V --points 6", files);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/regulation.txt");
  });

  it("draws what is kept in golden/regulation.svg", async () => {
    const { code, written } = await preprobe("regulation motor.netlist --load 0..2mNm -o speed.svg", files);
    expect(code).toBe(0);
    await expect(written["speed.svg"]).toMatchFileSnapshot("golden/regulation.svg");
  });

  it("prints JSON that fits the published schema", async () => {
    const { out } = await preprobe("regulation motor.netlist --json", files);
    expect(faults(JSON.parse(out), schema)).toEqual([]);
  });

  it("writes a row a point as CSV", async () => {
    const { out } = await preprobe("regulation motor.netlist --points 3 --csv", files);
    const rows = out.trimEnd().split("\n");
    expect(rows).toHaveLength(1 + 2 * 3);
    expect(rows[0]).toBe(
      "mode,motor,governor,against,unit,value,held,rpm,least_rpm,greatest_rpm,worked_share,periods_per_second",
    );
    expect(rows[1]).toMatch(/^as-drawn,M1,GV1,B1,volt,3.5,too slow,\d+\.\d+,,,,$/);
  });

  it("fits a narrow terminal, down to 60 columns", async () => {
    const { out } = await preprobe("regulation motor.netlist", files, { width: 60 });
    expect(out.split("\n").filter((line) => [...line].length > 60)).toEqual([]);
  });

  it.each([
    ["regulation lamp.netlist", "nothing is regulated in the modes looked at"],
    ["regulation motor.netlist --set GV1=open", "nothing is regulated in the modes looked at"],
    ["regulation motor.netlist --points 1", "--points 1: give a whole number from 2 to 200"],
    ["regulation motor.netlist --load 2..1mNm", "--load 2mNm..1mNm: the range goes down"],
    ["regulation motor.netlist --load 3V..4V", '"3V" is a voltage, but a torque is expected here'],
    ["regulation motor.netlist --battery B2=4V..5V", "there is no battery B2"],
  ])("%s is refused in a sentence", async (command, sentence) => {
    const { code, err } = await preprobe(command, files);
    expect(code).toBe(2);
    expect(err).toContain(sentence);
  });
});
