/** Noise weighting against the published tables: ITU-R BS.468-4, table 1, and the table of IEC 61672-1:2002. */
import { describe, expect, it } from "vitest";
import { exactFrequency } from "../../src/tape/preferred.ts";
import { aWeightingDecibels, ituR468Decibels } from "../../src/tape/weighting.ts";

/** Hz, dB: ITU-R BS.468-4, table 1 (docest.com/doc/357692). */
const ITU_R_468 = [
  [31.5, -29.9],
  [63, -23.9],
  [100, -19.8],
  [200, -13.8],
  [400, -7.8],
  [800, -1.9],
  [1000, 0],
  [2000, 5.6],
  [3150, 9],
  [4000, 10.5],
  [5000, 11.7],
  [6300, 12.2],
  [7100, 12],
  [8000, 11.4],
  [9000, 10.1],
  [10000, 8.1],
  [12500, 0],
  [14000, -5.3],
  [16000, -11.7],
  [20000, -22.2],
  [31500, -42.7],
] as const;

/** Nominal Hz, dB: IEC 61672-1:2002, column A. The values belong to the exact frequencies. */
const A_TABLE = [
  [10, -70.4],
  [12.5, -63.4],
  [16, -56.7],
  [20, -50.5],
  [25, -44.7],
  [31.5, -39.4],
  [40, -34.6],
  [50, -30.2],
  [63, -26.2],
  [80, -22.5],
  [100, -19.1],
  [125, -16.1],
  [160, -13.4],
  [200, -10.9],
  [250, -8.6],
  [315, -6.6],
  [400, -4.8],
  [500, -3.2],
  [630, -1.9],
  [800, -0.8],
  [1000, 0],
  [1250, 0.6],
  [1600, 1],
  [2000, 1.2],
  [2500, 1.3],
  [3150, 1.2],
  [4000, 1],
  [5000, 0.5],
  [6300, -0.1],
  [8000, -1.1],
  [10000, -2.5],
  [12500, -4.3],
  [16000, -6.6],
  [20000, -9.3],
] as const;
/** Half of the last digit printed. */
const ROUNDING = 0.05;

describe("the weighting curves", () => {
  it.each(ITU_R_468)("of ITU-R BS.468-4 at %d Hz print as %d dB", (hertz, wanted) => {
    expect(Math.abs(ituR468Decibels(hertz) - wanted)).toBeLessThanOrEqual(ROUNDING + 0.001);
  });

  it("have all lines of the table of the Recommendation", () => {
    expect(ITU_R_468.length).toBe(21);
  });

  it("of ITU-R BS.468-4 are 12.217 dB up at 6.3 kHz when 1 kHz is 0 dB", () => {
    // computed from the poles: 0 dB at 1 kHz and 12.2 dB at 6.3 kHz cannot both be exact
    expect(ituR468Decibels(6300)).toBeCloseTo(12.217, 3);
  });

  it.each(A_TABLE)("A of IEC 61672-1 at nominally %d Hz print as %d dB", (nominal, wanted) => {
    expect(Math.abs(aWeightingDecibels(exactFrequency(nominal)) - wanted)).toBeLessThanOrEqual(
      ROUNDING + 0.001,
    );
  });

  it("A have the corner frequencies that the standard prints", () => {
    // IEC 61672-1:2002: 20.60, 107.7, 737.9 and 12194 Hz; A1000 = -2.000 dB
    const [f1, f2, f3, f4] = [20.598997, 107.652649, 737.862231, 12194.217148];
    const formula = (f: number) =>
      20 *
      Math.log10(
        (f4 ** 2 * f ** 4) /
          ((f ** 2 + f1 ** 2) * Math.sqrt((f ** 2 + f2 ** 2) * (f ** 2 + f3 ** 2)) * (f ** 2 + f4 ** 2)),
      );
    expect(formula(1000)).toBeCloseTo(-2, 3);
    for (const f of [10, 100, 2000, 20_000]) {
      expect(aWeightingDecibels(f)).toBeCloseTo(formula(f) - formula(1000), 6);
    }
  });
});
