/**
 * The ideal 600 Ω ladder of the ITU-R BS.468-4 weighting network: an LC ladder synthesised to have exactly
 * the poles of the standard's network (published in endolith/waveform-analysis, derived from the elements of
 * the Recommendation's Fig. 1a); it is not claimed to be the topology of Fig. 1a.
 */
import { describe, expect, it } from "vitest";
import { expectWithin, gainOf, gainsOf } from "./bench.ts";

const ladder = `
generator G1 1 mV source 600 ohm in to chassis
capacitor C1 32.452 nF in to a
inductor L1 27.248 mH a to b
capacitor C2 51.421 nF b to chassis
inductor L2 13.708 mH b to d
capacitor C3 31.145 nF d to chassis
inductor L3 3.966 mH d to out
resistor R1 600 ohm out to chassis
path weighting from G1 to out
`;

/** Hz, table of the Recommendation (Table 1), its tolerance, and the ladder's own dB re EMF as computed. */
const TABLE = [
  [31.5, -29.9, 2, -48.282],
  [63, -23.9, 1.4, -42.262],
  [100, -19.8, 1, -38.25],
  [200, -13.8, 0.85, -32.234],
  [400, -7.8, 0.7, -26.232],
  [800, -1.9, 0.55, -20.285],
  [1000, 0, 0.5, -18.4],
  [2000, 5.6, 0.5, -12.771],
  [3150, 9, 0.5, -9.425],
  [4000, 10.5, 0.5, -7.863],
  [5000, 11.7, 0.5, -6.693],
  [6300, 12.2, 0.2, -6.183],
  [7100, 12, 0.2, -6.395],
  [8000, 11.4, 0.4, -7.031],
  [9000, 10.1, 0.6, -8.261],
  [10000, 8.1, 0.8, -10.265],
  [12500, 0, 1.2, -18.415],
  [14000, -5.3, 1.4, -23.716],
  [16000, -11.7, 1.6, -30.099],
  [20000, -22.2, 2, -40.577],
  [31500, -42.7, 2.8, -61.11],
] as const;
const HERTZ = TABLE.map(([hertz]) => hertz);

describe("the 468 weighting ladder", () => {
  it("stays within 0.1 dB of the table of the Recommendation at all 21 frequencies", () => {
    // ITU-R BS.468-4, Table 1; 0 dB at 1 kHz and +12.2 dB at 6.3 kHz cannot both be exact (0.017 dB apart);
    // the rounded table and the poles agree to 0.07 dB
    const reference = gainOf(ladder, 1000).db;
    gainsOf(ladder, HERTZ).forEach(({ db }, k) => {
      expectWithin(db - reference, TABLE[k]![1], 0.1);
    });
  });

  it("keeps the tolerances of the Recommendation, referred to 6.3 kHz", () => {
    // ITU-R BS.468-4, Table 1: tolerances; 0 dB at 6.3 kHz in the standard, ±0.2 dB here
    const reference = gainOf(ladder, 6300).db - 12.2;
    gainsOf(ladder, HERTZ).forEach(({ db }, k) => {
      expectWithin(db - reference, TABLE[k]![1], TABLE[k]![2]);
    });
  });

  it("gives the levels computed for these element values to a thousandth of a decibel", () => {
    // computed by a chain of two-ports in another program language
    gainsOf(ladder, HERTZ).forEach(({ db }, k) => {
      expectWithin(db, TABLE[k]![3], 0.00051);
    });
  });

  it("has the response of the standard's one zero and six poles", () => {
    // poles in rad/s: endolith/waveform-analysis
    const poles = [
      [-25903.70104781628, 0],
      [-23615.53521363528, 36379.90893732929],
      [-23615.53521363528, -36379.90893732929],
      [-18743.74669072136, 62460.15645250649],
      [-18743.74669072136, -62460.15645250649],
      [-62675.1700584679, 0],
    ] as const;
    const level = (hertz: number) => {
      const omega = 2 * Math.PI * hertz;
      const distances = poles.map(([re, im]) => Math.hypot(re, omega - im));
      return 20 * Math.log10(omega) - distances.reduce((sum, d) => sum + 20 * Math.log10(d), 0);
    };
    const reference = gainOf(ladder, 1000).db - level(1000);
    gainsOf(ladder, HERTZ).forEach(({ db }, k) => {
      expectWithin(db - reference, level(HERTZ[k]!), 0.002); // element values rounded to a part in 3000
    });
  });

  it("passes at most half of the EMF, −6.02 dB, as any filter between equal resistances: −6.18 dB at its peak", () => {
    // greatest power a matched load can have; computed −6.183 dB at 6.3 kHz
    const peak = Math.max(...gainsOf(ladder, [6000, 6100, 6200, 6300, 6400, 6500]).map(({ db }) => db));
    expect(peak).toBeLessThan(-6.0206);
    expectWithin(peak, -6.18, 0.005);
  });
});
