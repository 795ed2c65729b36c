import { describe, expect, it } from "vitest";
import { preprobe } from "./desk.ts";

const WIRED = {
  "wired.netlist": `battery B1 6 V plus rail minus chassis
resistor R1 1k rail to middle
resistor R2 1k centre to chassis
capacitor C1 1µ centre to chassis
wire middle to centre
`,
};

describe("A net with two names", () => {
  it.each(["middle", "centre", "R2.1"])("answers to %s", async (name) => {
    const done = await preprobe(
      ["waveform", "wired.netlist", "--for", "10ms", "--show", name, "--csv"],
      WIRED,
    );
    expect(done.err).toBe("");
    expect(done.out.split("\n").at(-2)).toMatch(/,2\.99/);
  });

  it("answers to both where an oscillation is asked for at a net", async () => {
    const [shown, other] = await Promise.all(
      ["middle", "centre"].map((name) => preprobe(["oscillation", "wired.netlist", "--at", name], WIRED)),
    );
    expect(other).toEqual(shown);
    expect(other!.code).toBe(0);
  });
});
