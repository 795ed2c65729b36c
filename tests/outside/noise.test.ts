/**
 * Noise against closed forms, worked examples of thermal noise, and the noise figure of a transistor after
 * Nielsen.
 */
import { describe, it } from "vitest";
import type { PathHiss } from "../../src/bench/hiss/results.ts";
import { type HissConditions, hiss } from "../../src/bench/hiss.ts";
import { BOLTZMANN, ELEMENTARY_CHARGE } from "../../src/devices/constants.ts";
import { aWeightingDecibels, ituR468Decibels } from "../../src/tape/weighting.ts";
import { circuitOf, expectNear, expectWithin, ohms } from "./bench.ts";

/** The noise of the only path of `text`. */
function noiseOf(text: string, conditions: HissConditions = {}): PathHiss {
  const { results, failures } = hiss(circuitOf(text), conditions);
  const [result] = results;
  if (result === undefined) throw new Error(failures.map(({ message }) => message).join("\n"));
  return result;
}

/** A resistance alone, as the inner one of a generator. */
const alone = (resistance: number, kelvin: number) => `
ambient ${(kelvin - 273.15).toFixed(2)} °C
generator G1 1 mV source ${ohms(resistance)} a to chassis
path noise from G1 to a
`;

const KELVIN = 298.15;
const FOUR_KT = 4 * BOLTZMANN * KELVIN;

describe("thermal noise", () => {
  it.each([
    // [Ω, K, band Hz, V rms, half the last digit], source
    [1000, 300, 1, 4.07e-9, 0.005e-9], // music-electronics-forum.com, thread 236634
    [100e3, 300, 1e6, 40.69e-6, 0.02e-6], // tutorialsweb.com, with k = 1.38e-23 J/K: 0.024 % less
    [1e6, 310, 1e6, 1.31e-4, 0.005e-4], // assignmentexpert.com
    [1000, 290, 10e3, 400e-9, 0.5e-9], // 400 nV at "room temperature"; 290 K is assumed here
  ])("of %d Ω at %d K in %d Hz is as worked examples have it", (resistance, kelvin, width, volts, digit) => {
    const { output_volts_rms } = noiseOf(alone(resistance, kelvin), { band: { from: 10, to: 10 + width } });
    expectWithin(output_volts_rms!, volts, digit);
  });

  it.each([
    // computed from the exact k of the SI
    [10e3, 300, 20e3, 1.82032e-6],
    [600, 293.15, 20e3, 0.440765e-6],
    [1000, 300, 1000, 128.716e-9],
  ])("of %d Ω at %d K in %d Hz has six digits right", (resistance, kelvin, width, volts) => {
    const { output_volts_rms } = noiseOf(alone(resistance, kelvin), { band: { from: 10, to: 10 + width } });
    expectNear(output_volts_rms!, volts, 5e-6);
  });

  it("over a band is √(4kTRB), whatever the band, to 1e-9", () => {
    for (const band of [
      { from: 20, to: 20e3 },
      { from: 1e-3, to: 1e7 },
      { from: 999, to: 1001 },
    ]) {
      const { output_volts_rms } = noiseOf(alone(4700, KELVIN), { band });
      expectNear(output_volts_rms!, Math.sqrt(FOUR_KT * 4700 * (band.to - band.from)), 1e-9);
    }
  });

  it("behind a capacitor is 4kTR·f_c·(atan(f₂/f_c) − atan(f₁/f_c)), to 1e-9", () => {
    const text = `
generator G1 1 mV source 10k a to chassis
capacitor C1 22n a to chassis
path noise from G1 to a
`;
    const corner = 1 / (2 * Math.PI * 10e3 * 22e-9);
    const { output_volts_rms } = noiseOf(text);
    const width = corner * (Math.atan(20e3 / corner) - Math.atan(20 / corner));
    expectNear(output_volts_rms!, Math.sqrt(FOUR_KT * 10e3 * width), 1e-9);
  });

  it("of a head with parallel loss is 4kT times the real part of its impedance, to 1e-9", () => {
    const text = `
head K1 80 mH dcr 100 ohm loss 50k a to chassis
path noise from K1 to a
`;
    const hertz = [20, 315, 1000, 10e3, 20e3];
    const densities = noiseOf(text, { hertz }).output_volts_per_root_hertz!;
    hertz.forEach((f, k) => {
      const x = 2 * Math.PI * f * 0.08;
      // R ∥ (r + jx): real part (R·r·(R + r) + R·x²)/((R + r)² + x²)
      const real = (50e3 * 100 * 50100 + 50e3 * x * x) / (50100 ** 2 + x * x);
      expectNear(densities[k]!, Math.sqrt(FOUR_KT * real), 1e-9);
    });
  });

  it("of a tuned circuit over a wide band is kT/C, however sharp it is", () => {
    const text = `
generator G1 1 mV source 2 ohm a to chassis
inductor L1 10 mH a to b
capacitor C1 10n b to chassis
path noise from G1 to b
`;
    // f₀ 15.9 kHz, Q 500; what lies outside the band is some 1e-5 of the whole
    const { output_volts_rms } = noiseOf(text, { band: { from: 0.1, to: 10e6 } });
    expectNear(output_volts_rms! ** 2, (BOLTZMANN * KELVIN) / 10e-9, 2e-5);
  });

  it("drives through a loop of two resistors 4kT/(R1 + R2), the noise of the one looked at included", () => {
    const text = `
generator G1 1 mV source 1k a to chassis
resistor R1 3k a to chassis
path noise from G1 to R1 current
`;
    const { output_amps_rms } = noiseOf(text);
    expectNear(output_amps_rms!, Math.sqrt((FOUR_KT / 4000) * 19980), 1e-9);
  });

  it("of an attenuator gives a noise figure of its loss at 290 K", () => {
    // 20 dB, 600 Ω: H. T. Friis, Noise figures of radio receivers, Proc. IRE 32, 1944: a passive network at
    // 290 K has its loss as noise figure. Matched T pad: R(k − 1)/(k + 1), 2Rk/(k² − 1), k = 10
    const text = `
ambient 16.85 °C
generator G1 1 mV source 600 ohm a to chassis
resistor R1 ${ohms((600 * 9) / 11)} a to m
resistor R2 ${ohms((2 * 600 * 10) / 99)} m to chassis
resistor R3 ${ohms((600 * 9) / 11)} m to b
path pad from G1 to b
`;
    const { noise_figure } = noiseOf(text);
    expectWithin(noise_figure!.at_1k_db, 20, 1e-8);
    expectWithin(noise_figure!.band_db, 20, 1e-8);
  });
});

describe("weighted noise", () => {
  it("about 1 kHz is what it is unweighted, about 6.3 kHz 12.2 dB more by ITU-R 468", () => {
    // ITU-R BS.468-4, table 1; IEC 61672-1: −0.1 dB at 6.3 kHz
    const at = (hertz: number) => {
      const found = noiseOf(alone(1000, KELVIN), { band: { from: hertz - 1, to: hertz + 1 } });
      const over = (level: number) => 20 * Math.log10(level / found.output_volts_rms!);
      const { A, "ITU-R 468": itu } = found.weighted;
      return { a: over(A.output_volts_rms!), itu: over(itu.output_volts_rms!) };
    };
    expectWithin(at(1000).a, 0, 1e-4);
    expectWithin(at(1000).itu, 0, 1e-4);
    expectWithin(at(6300).itu, 12.2, 0.05);
    expectWithin(at(6300).a, -0.1, 0.05);
  });

  it("of a flat density is the sum under the curve in a hundred thousand steps, to 1e-6", () => {
    const steps = 100_000;
    const width = (20e3 - 20) / steps;
    const sum = (decibels: (hertz: number) => number) =>
      Array.from({ length: steps }, (_, k) => 10 ** (decibels(20 + (k + 0.5) * width) / 10)).reduce(
        (total, power) => total + power * width,
        0,
      );
    const { weighted } = noiseOf(alone(1000, KELVIN));
    const level = (power: number) => Math.sqrt(FOUR_KT * 1000 * power);
    expectNear(weighted.A.output_volts_rms!, level(sum(aWeightingDecibels)), 1e-6);
    expectNear(weighted["ITU-R 468"].output_volts_rms!, level(sum(ituR468Decibels)), 1e-6);
  });
});

/**
 * A transistor that is nothing but what Nielsen's formula knows: β, rb′, leakage; no Early effect, cut-off far
 * away, no flicker. Coils feed and capacitors couple without noise; the collector's current is the output.
 */
const stage = (emitterAmps: number, source: number, leakage: number) => `
type X npn germanium
    hfe     50 at 1 mA
    vbe     600 mV at 1 mA
    leakage ${leakage > 0 ? `${leakage * 1e6} µA` : "0.000001 µA"}
    early   1000000 V
    ft      10000 MHz
    ccb     0.001 pF at 6 V
    rbb     300 ohm
    flicker 0 Hz
generator  G1 1 mV source ${ohms(source)} in to chassis
capacitor  C1 1 F in to T1.b
inductor   L1 1000000 H T1.b to chassis
transistor T1 X e emitter c collector
capacitor  C2 1 F emitter to chassis
resistor   R1 ${ohms(1000 / emitterAmps)} emitter to tail
battery    B1 1000.6 V plus chassis minus tail
battery    B2 6 V plus collector minus chassis
path       stage from G1 to B2 current
`;

/** Noise figure with everything at 25 °C, as the formula has it: ours counts the source at 290 K. */
function figureOf(emitterAmps: number, source: number, leakage: number): number {
  const { noise_figure } = noiseOf(stage(emitterAmps, source, leakage));
  return 10 * Math.log10(1 + ((10 ** (noise_figure!.at_1k_db / 10) - 1) * 290) / KELVIN);
}

const SOURCES = [200, 500, 1000, 2000, 5000, 10000] as const;

/**
 * dB at mid band, rb′ 300 Ω, 25 °C, β 50, by emitter current in mA. Computed from the formula of E. G. Nielsen,
 * Behavior of noise figure in junction transistors, Proc. IRE 45, 1957, the formula from memory, VT 25.7 mV:
 * F = 1 + rb′/Rs + re/2Rs + (1 − α + Ico/IE)·(Rs + rb′ + re)²/(2α·re·Rs)
 */
const WITHOUT_LEAKAGE = [
  [0.1, [5.12, 2.89, 1.83, 1.28, 1.23, 1.69]],
  [0.3, [4.65, 2.72, 1.95, 1.77, 2.42, 3.6]],
  [0.5, [4.66, 2.86, 2.26, 2.31, 3.38, 4.94]],
  [1, [4.92, 3.34, 3.0, 3.44, 5.15, 7.14]],
  [2, [5.51, 4.22, 4.23, 5.1, 7.37, 9.69]],
] as const;

const WITH_LEAKAGE = [
  [0.1, [5.49, 3.36, 2.46, 2.22, 2.88, 4.12]],
  [0.3, [4.89, 3.06, 2.45, 2.52, 3.66, 5.27]],
  [0.5, [4.88, 3.17, 2.7, 2.96, 4.39, 6.21]],
  [1, [5.1, 3.6, 3.37, 3.94, 5.84, 7.95]],
] as const;

const lines = (table: readonly (readonly [number, readonly number[]])[]) =>
  table.flatMap(([milliamps, row]) =>
    row.map((decibels, k) => ({ milliamps, source: SOURCES[k]!, decibels })),
  );

describe("the noise figure of a transistor", () => {
  it.each(lines(WITHOUT_LEAKAGE))(
    "of $milliamps mA at $source Ω is Nielsen's $decibels dB",
    ({ milliamps, source, decibels }) => {
      // half the last digit, and 25.7 for 25.693 mV
      expectWithin(figureOf(milliamps / 1000, source, 0), decibels, 0.006);
    },
  );

  it.each(lines(WITH_LEAKAGE))(
    "of $milliamps mA with 5 µA of leakage at $source Ω is Nielsen's $decibels dB",
    ({ milliamps, source, decibels }) => {
      // the leakage flows from collector to base: it reaches the output by both ways, which makes its term
      // greater than the formula's by 1/α, 2 %, at most 0.04 dB here
      const ours = figureOf(milliamps / 1000, source, 5e-6);
      expectWithin(ours, decibels + 0.02, 0.027);
    },
  );

  it("follows the formula to 1e-4 dB, the leakage's term over α², at any source", () => {
    const vt = (BOLTZMANN * KELVIN) / ELEMENTARY_CHARGE;
    const alpha = 50 / 51;
    for (const [amps, leakage] of [
      [1e-4, 0],
      [1e-3, 0],
      [3e-4, 5e-6],
    ] as const) {
      for (const rs of [150, 1e3, 1e4]) {
        const re = vt / amps;
        const whole = (rs + 300 + re) ** 2 / (2 * alpha * re * rs);
        const f = 1 + 300 / rs + re / (2 * rs) + (1 - alpha + leakage / amps / alpha) * whole;
        expectWithin(figureOf(amps, rs, leakage), 10 * Math.log10(f), 1e-4);
      }
    }
  });
});
