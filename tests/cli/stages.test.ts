import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { preprobe, RUNAWAY, STAGE } from "./desk.ts";

const demo = (name: string) =>
  readFileSync(new URL(`../../netlists/${name}.netlist`, import.meta.url), "utf8");
const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));
const files = {
  "stage.netlist": STAGE,
  "hot.netlist": RUNAWAY,
  "pair.netlist": demo("thermistor-bias"),
  "coupled.netlist": demo("direct-coupled-pair"),
  "trap.netlist": demo("bias-trap"),
  "motor.netlist": demo("motor-regulator"),
};

describe("preprobe stages", () => {
  it("prints what is kept in golden/stages-pair.txt, which is there to be read", async () => {
    const done = await preprobe("stages pair.netlist", files);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/stages-pair.txt");
  });

  it("prints the loops of a direct-coupled pair as kept in golden/stages-loops.txt", async () => {
    const done = await preprobe("stages coupled.netlist", files);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/stages-loops.txt");
  });

  it("fits a narrow terminal, down to 60 columns", async () => {
    const { out } = await preprobe("stages coupled.netlist", files, { width: 60 });
    expect(out.split("\n").filter((line) => [...line].length > 60)).toEqual([]);
  });

  it.each(["stage", "hot", "pair", "coupled", "motor"])(
    "prints JSON of %s that fits the published schema",
    async (name) => {
      const { out } = await preprobe(`stages ${name}.netlist --json`, files);
      expect(faults(JSON.parse(out), schema)).toEqual([]);
    },
  );

  it("writes a row a transistor and mode as CSV", async () => {
    const { out } = await preprobe("stages motor.netlist --csv", files);
    const rows = out.trimEnd().split("\n");
    expect(rows).toHaveLength(1 + 3 * 3);
    expect(rows[4]).toMatch(/^fast,T1,oscillator,/);
  });

  it("draws the quiescent currents of a pair, runaway as crosses, as kept in golden/stages-pair.svg", async () => {
    const { written } = await preprobe("stages pair.netlist -o idle.svg", files);
    await expect(written["idle.svg"]).toMatchFileSnapshot("golden/stages-pair.svg");
    expect(written["idle.svg"]).toContain("<title>thermal runaway</title>");
  });

  it("refuses to draw where there is no pair, and a circuit without transistors, and says why", async () => {
    const plot = await preprobe("stages coupled.netlist -o idle.svg", files);
    expect(plot).toMatchObject({ code: 2, written: {} });
    expect(plot.err).toContain("no push-pull stage to draw");
    const trap = await preprobe("stages trap.netlist", files);
    expect(trap).toMatchObject({ code: 2, out: "" });
    expect(trap.err).toContain("no transistor");
  });

  it("answers of the modes that have an operating point, names the others, and ends with 1", async () => {
    const done = await preprobe("stages hot.netlist", files);
    expect(done.code).toBe(1);
    expect(done.err).toContain("thermal runaway of T1");
    expect(done.out).toContain("cool");
  });
});
