import { describe, expect, it } from "vitest";
import { preprobe } from "./desk.ts";

const FILES = {
  "rc.netlist":
    "battery B1 10 V plus a minus chassis\nresistor R1 10k a to out\ncapacitor C1 100n out to chassis\ngenerator G1 1 mV in to chassis\nresistor R2 1k in to chassis\n",
};

describe("waveform", () => {
  it("switches a battery on at the time given", async () => {
    const { out } = await preprobe(
      [
        "waveform",
        "rc.netlist",
        "--at",
        "1ms B1=on",
        "--for",
        "6ms",
        "--every",
        "1ms",
        "--show",
        "out",
        "--json",
      ],
      FILES,
    );
    const [result] = JSON.parse(out).results;
    expect(result.marks).toEqual([{ what: "B1=on", seconds: 1e-3 }]);
    const expected = [0, 0, ...[1, 2, 3, 4, 5].map((n) => 10 * (1 - Math.exp(-n)))];
    expect(result.nets.out.length).toBe(7);
    for (const [k, volts] of expected.entries()) expect(result.nets.out[k]).toBeCloseTo(volts, 3);
  });

  it("keeps what has been computed when it is interrupted", async () => {
    let looks = 0;
    const interrupted = () => ++looks > 30;
    const { out, code } = await preprobe(
      ["waveform", "rc.netlist", "--for", "5ms", "--show", "out", "--json"],
      FILES,
      { interrupted },
    );
    const [result] = JSON.parse(out).results;
    expect(code).toBe(0);
    expect(result.interrupted_seconds).toBeGreaterThan(0);
    expect(result.interrupted_seconds).toBeLessThan(5e-3);
    expect(result.seconds.at(-1)).toBeLessThanOrEqual(result.interrupted_seconds);
  });

  it("writes comma-separated values with a column a trace", async () => {
    const { out } = await preprobe(
      ["waveform", "rc.netlist", "--for", "4ms", "--every", "1ms", "--show", "out,R1 current", "--csv"],
      FILES,
    );
    const lines = out.trimEnd().split("\n");
    expect(lines[0]).toBe("mode,seconds,out volts,R1 amps");
    expect(lines.length).toBe(6);
    expect(Number(lines[1]!.split(",")[3])).toBeCloseTo(1e-3, 6);
  });
});
