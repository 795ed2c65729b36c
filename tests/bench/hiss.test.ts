import { describe, expect, it } from "vitest";
import { gaussLegendre } from "../../src/bench/hiss/gauss.ts";
import { hiss } from "../../src/bench/hiss.ts";
import { readNetlist } from "../../src/language/index.ts";

function answerOf(text: string) {
  const { circuit } = readNetlist(text);
  if (circuit === undefined) throw new Error("the netlist has errors");
  return hiss(circuit);
}

describe("the rule of Gauss and Legendre", () => {
  it.each([1, 2, 5, 7])("with %d nodes integrates every power below twice that exactly", (n) => {
    const { nodes, weights } = gaussLegendre(n);
    for (let power = 0; power < 2 * n; power++) {
      const sum = nodes.reduce((total, x, i) => total + weights[i]! * x ** power, 0);
      expect(sum).toBeCloseTo(power % 2 === 0 ? 2 / (power + 1) : 0, 13);
    }
  });
});

describe("the noise of a path", () => {
  it("has no noise figure where the source has no resistance", () => {
    const [result] = answerOf(`
generator G1 1 mV in to chassis
resistor R1 1k in to out
resistor R2 1k out to chassis
path divider from G1 to out
`).results;
    expect(result?.noise_figure).toBeUndefined();
    expect(result?.contributors.map(({ part, share }) => [part, share])).toEqual([
      ["R1", expect.closeTo(0.5, 12)],
      ["R2", expect.closeTo(0.5, 12)],
    ]);
  });

  it("has no input level, ratio or figure where nothing of the source arrives", () => {
    const [result] = answerOf(`
generator G1 1 mV source 600 ohm in to chassis
resistor R1 1k in to chassis
resistor R2 1k out to chassis
path none from G1 to out
`).results;
    expect(result?.gain_db).toBe(-400);
    expect(result?.output_volts_rms).toBeGreaterThan(0);
    for (const key of ["input_volts_rms", "signal_to_noise_db", "noise_figure"]) {
      expect(result).not.toHaveProperty(key);
    }
  });

  it("is nothing at all, without a contributor, at a short circuit to chassis", () => {
    const [result] = answerOf(`
generator G1 1 mV source 600 ohm in to chassis
resistor R1 1k in to out
wire out to chassis
path none from G1 to out
`).results;
    expect(result).toMatchObject({ output_volts_rms: 0, contributors: [] });
    expect(JSON.stringify(result)).not.toContain("null");
  });

  it("counts both sections of a track as one contributor", () => {
    const [result] = answerOf(`
generator G1 1 mV source 600 ohm in to chassis
potentiometer P1 10k setting 30% in to out to chassis
path control from G1 to out
`).results;
    expect(result?.contributors.map(({ part, origin }) => `${part} ${origin}`).toSorted()).toEqual([
      "G1 source resistance (thermal)",
      "P1 resistance (thermal)",
    ]);
  });

  it("says which mode has no operating point, and answers for the others", () => {
    const { results, failures } = answerOf(`
type HOT pnp germanium
    hfe 100 at 1 mA
    rth 0.4 K/mW
battery B1 24 V plus chassis minus rail
switch S1 cool warm
    pole a T1.b cool foot warm feed
resistor R1 10k foot to chassis
resistor R2 4k7 rail to feed
resistor R3 10R rail to T1.c
transistor T1 HOT e chassis
generator G1 1 mV source 600 ohm in to chassis
capacitor C1 1µ in to T1.b
path stage from G1 to T1.c
`);
    expect(failures).toMatchObject([{ kind: "thermal runaway", mode: "warm", part: "T1" }]);
    expect(results.map(({ mode }) => mode)).toEqual(["cool"]);
  });
});
