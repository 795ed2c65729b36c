import { describe, expect, it } from "vitest";
import { preprobe, RUNAWAY, STAGE } from "./desk.ts";

const files = {
  "stage.netlist": `${STAGE}tolerance resistor ±10% electrolytic -20% +100%\nprinted play T1.c -9.5 V\n`,
  "hot.netlist": RUNAWAY,
  "two.netlist":
    "battery B1 9V plus chassis minus a\nbattery B2 9V plus chassis minus b\nresistor R1 1k a to b\n",
};

describe("spread", () => {
  it("prints the table kept beside this test", async () => {
    const done = await preprobe("spread stage.netlist --trials 200", files);
    expect(done).toMatchObject({ code: 0, err: "" });
    await expect(done.out).toMatchFileSnapshot("golden/spread.txt");
  });

  it("prints the table of an aged set in use", async () => {
    const words =
      "spread stage.netlist --trials 200 --seed 7 --aged --battery 6V..9.3V --ambient 10C..35C --mode play";
    const done = await preprobe(words, files, { width: 72 });
    await expect(done.out).toMatchFileSnapshot("golden/spread-aged.txt");
    for (const line of done.out.split("\n")) expect([...line].length).toBeLessThanOrEqual(72);
  });

  it("writes CSV and a drawing", async () => {
    const { written } = await preprobe("spread stage.netlist --trials 60 -o spread.csv -o spread.svg", files);
    const [head, ...rows] = written["spread.csv"]!.trimEnd().split("\n");
    expect(head).toBe(
      "mode,name,quantity,least,typical,greatest,printed_volts,printed_inside,reading_volts,reading_inside",
    );
    expect(new Set(rows.map((row) => row.split(",").length))).toEqual(new Set([10]));
    await expect(written["spread.svg"]!).toMatchFileSnapshot("golden/spread.svg");
  });

  it("tells how far it has come to who watches, and not with --quiet", async () => {
    const told: string[] = [];
    const progress = (text: string) => void told.push(text);
    await preprobe("spread stage.netlist --trials 200 --mode play", files, { progress });
    expect(told).toEqual([
      "play: 0 of 200 specimens",
      "play: 100 of 200 specimens",
      "play: 200 of 200 specimens",
      "",
    ]);
    told.length = 0;
    await preprobe("spread stage.netlist --trials 200 --quiet", files, { progress });
    expect(told.filter((text) => text !== "")).toEqual([]);
  });

  it("says which mode has no operating point, and gives the other", async () => {
    const done = await preprobe("spread hot.netlist --trials 60", files);
    expect(done.code).toBe(1);
    expect(done.err).toContain("mode hot: thermal runaway of T1");
    expect(done.out).toContain("cool");
  });

  it.each([
    ["--battery 4V..", "a range is one value, two dots, and another"],
    ["--battery 6V..4V", "exchange them: --battery 4V..6V"],
    ["--battery B2=4V..6V", "there is no battery B2"],
    ["--battery 4A..6A", "is a current"],
    ["--ambient 10C..400C", "no circuit works there"],
    ["--trials 3", "give a whole number from 40 to 1000000"],
    ["--seed x", "give a whole number from 0"],
  ])("refuses %s", async (words, why) => {
    const done = await preprobe(`spread stage.netlist ${words}`, files);
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toContain(why);
  });

  it("asks which battery is meant", async () => {
    const done = await preprobe("spread two.netlist --battery 4V..6V", files);
    expect(done.err).toContain("→ say which: --battery B1=4V..6V");
  });
});
