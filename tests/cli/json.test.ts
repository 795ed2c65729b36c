import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { preprobe, RUNAWAY, STAGE } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));
const files = { "stage.netlist": STAGE, "hot.netlist": RUNAWAY, "bad.netlist": "resitor R1 1k a to b" };

describe("what --json prints", () => {
  it.each([
    "check stage.netlist",
    "check hot.netlist",
    "check bad.netlist",
    "voltages stage.netlist",
    "voltages stage.netlist --meter 20k/V",
    "voltages hot.netlist",
    "voltages hot.netlist --mode hot",
    "voltages nowhere.netlist",
    "response stage.netlist",
    "response stage.netlist --at 50,1k --path playback",
    "types",
    "types PN stage.netlist",
    "types NOPE",
    "types --like OC71",
    "types OC71 --curves",
    "spread stage.netlist --trials 60",
    "spread hot.netlist --trials 60",
    "adjust stage.netlist R2 --until T1.c=-4V",
    "adjust stage.netlist R2 --until T1.c=-40V",
    "adjust stage.netlist R2",
    "suspects stage.netlist --reading play:T1.c=-0.2V --meter 20k/V",
    "suspects stage.netlist --reading play:T1.c=-0.2V --pairs",
    "suspects stage.netlist --reading play:T1.c=20V",
    "voltages",
  ])("by %s fits the published schema, and so does the file that -o writes", async (words) => {
    const printed = await preprobe(`${words} --json`, files);
    expect(faults(JSON.parse(printed.out), schema)).toEqual([]);
    const { written } = await preprobe(`${words} -o run.json`, files);
    for (const text of Object.values(written)) expect(text).toBe(printed.out);
  });
});
