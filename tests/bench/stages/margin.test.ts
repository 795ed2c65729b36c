/**
 * Loops of one, two and three equal poles, built as netlists, against the closed forms. With a loop gain
 * T₀/(1 + jωτ)ⁿ the magnitude is 1 at ωτ = √(T₀^(2/n) − 1), and the phase margin is 180° − n·arctan ωτ; three
 * equal poles are on the verge of oscillation at T₀ = 8. Textbook matter, for example Franklin, Powell &
 * Emami-Naeini, Feedback Control of Dynamic Systems, chapter on frequency response (from memory).
 */
import { describe, expect, it } from "vitest";
import { voltages } from "../../../src/bench/voltages.ts";
import { BOLTZMANN, ELEMENTARY_CHARGE } from "../../outside/physics.ts";
import { circuitOf, loopIn, stageIn, stagesOf } from "./stages-of.ts";

/** A collector's resistor, and what couples the generator in; its like is at every net. */
const RESISTOR = 5000;
const COUPLING = 1e6;
const LOAD = 1 / (1 / RESISTOR + 1 / COUPLING);
const FARADS = 10e-6;

/** Three stages in a ring, each collector on the next base; the first `poles` of these nets with a capacitor. */
const ring = (hfe: number, poles: number) => `
type IDEAL npn silicon
    hfe ${hfe} at 1 mA
    vbe 600 mV at 1 mA
    leakage 1 pA at 25 °C
    early 1 MV
    rbb 0 ohm
    ccb 0 pF at 1 V
    ft 100 GHz at 1 mA
battery B1 6 V plus rail minus chassis
generator G1 1 V source 1 Mohm first to chassis
transistor T1 IDEAL e chassis b first c second
transistor T2 IDEAL e chassis b second c third
transistor T3 IDEAL e chassis b third c first
resistor R1 ${RESISTOR} ohm rail to first
resistor R2 ${RESISTOR} ohm rail to second
resistor R4 1 Mohm second to chassis
resistor R5 1 Mohm third to chassis
resistor R3 ${RESISTOR} ohm rail to third
${["first", "second", "third"]
  .slice(0, poles)
  .map((net, k) => `capacitor C${k + 1} ${FARADS * 1e6}µ ${net} to chassis\n`)
  .join("")}
path around from G1 to first
`;

/** Gain and time constant of one stage, from its currents. */
function stageOf(text: string) {
  const t1 = voltages(circuitOf(text)).results[0]!.transistors.T1!;
  const vt = (BOLTZMANN * (t1.junction_celsius + 273.15)) / ELEMENTARY_CHARGE;
  const input = vt / t1.ib_amps;
  const ohms = 1 / (1 / LOAD + 1 / input);
  return { gain: (t1.ic_amps / vt) * ohms, seconds: ohms * FARADS };
}

function closedForm(text: string, poles: number) {
  const { gain, seconds } = stageOf(text);
  const around = gain ** 3;
  const x = Math.sqrt(around ** (2 / poles) - 1);
  return {
    around,
    hertz: x / (2 * Math.PI * seconds),
    margin: 180 - (poles * Math.atan(x) * 180) / Math.PI,
  };
}

describe("loop gain and phase margin", () => {
  it.each([
    [1, 3],
    [1, 20],
    [2, 3],
    [2, 20],
    [3, 1.5],
    [3, 1.95],
    [3, 3],
  ])(
    "of a loop with %i equal poles and a gain near %f a stage are those of the closed form",
    (poles, hfe) => {
      const text = ring(hfe, poles);
      const expected = closedForm(text, poles);
      const loop = loopIn(stagesOf(text), "T3", "T1");
      expect(loop.dc_loop_gain / expected.around).toBeCloseTo(1, 4);
      expect((loop.crossover_hertz ?? 0) / expected.hertz).toBeCloseTo(1, 3);
      expect(loop.phase_margin_degrees).toBeCloseTo(expected.margin, 1);
      expect(loop.through).toEqual(["T1", "T2", "T3"]);
    },
  );

  it("of three equal poles change sign where each stage's gain passes 2, and there oscillation begins", () => {
    for (const hfe of [1.9, 2, 2.05, 2.1, 2.2]) {
      const text = ring(hfe, 3);
      const grows = stageOf(text).gain > 2;
      const result = stagesOf(text);
      expect((loopIn(result, "T3", "T1").phase_margin_degrees ?? 0) < 0).toBe(grows);
      expect(stageIn(result, "T2").configuration).toBe(grows ? "oscillator" : "common emitter");
    }
  });

  it("tell the frequency of oscillation of three equal poles, √3/(2πτ), and by how much the gain exceeds 8", () => {
    const text = ring(3, 3);
    const { gain, seconds } = stageOf(text);
    const { oscillation } = stageIn(stagesOf(text), "T1");
    expect(oscillation?.hertz).toBeCloseTo(Math.sqrt(3) / (2 * Math.PI * seconds), 0);
    expect(oscillation?.loop_gain).toBeCloseTo(gain ** 3 / 8, 1);
  });

  it("have no margin to show where the loop gain is nowhere 1", () => {
    const loop = loopIn(stagesOf(ring(0.8, 1)), "T3", "T1");
    expect(loop.greatest_loop_gain).toBeLessThan(1);
    expect(loop).not.toHaveProperty("phase_margin_degrees");
  });
});
