import { describe, expect, it } from "vitest";
import { preprobe } from "./desk.ts";

const FILES = {
  "rc.netlist":
    "generator G1 1 mV in to chassis\nresistor R1 1k in to out\ncapacitor C1 10n out to chassis\n",
};
const run = (options: string) => preprobe(`waveform rc.netlist ${options}`, FILES);

describe("Tones whose common period is longer than the run", () => {
  it("are said to leave nothing to be read, with a time that is long enough", async () => {
    const { code, out, err } = await run("--tone 1kHz,1mV --tone 1.01kHz,1mV --for 20ms");
    expect(code).toBe(0);
    expect(out).not.toContain("repeats itself");
    expect(err).toContain(
      "the tones repeat themselves together every 100ms, longer than the run: no level and no harmonics are read",
    );
    const [, longer] = /--for (\S+)/.exec(err)!;
    const again = await run(`--tone 1kHz,1mV --tone 1.01kHz,1mV --for ${longer}`);
    expect(again.err).toBe("");
    expect(again.out).toContain("repeats itself");
  });

  it("are told in JSON as well", async () => {
    const { out } = await run("--tone 1kHz,1mV --tone 1.01kHz,1mV --for 20ms --json --quiet");
    expect(JSON.parse(out).warnings).toHaveLength(1);
  });

  it("go without a word where the run holds one period", async () => {
    expect((await run("--tone 1kHz,1mV --for 1ms")).err).toBe("");
    expect((await run("--for 1ms")).err).toBe("");
  });
});
