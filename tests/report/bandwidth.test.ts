import { describe, expect, test } from "vitest";
import { bandwidth } from "../../src/report/bandwidth.ts";
import { dumb, response, sweep } from "./fixtures.ts";

describe("what one reads off a response", () => {
  test("The half-power points of a single first-order band-pass are its corners.", () => {
    // corners far enough from 1 kHz that the gain there is the midband gain to 0.02 dB
    const wide = response({ path: "a", gain: 100, low: 30, high: 15e3, hertz: sweep(10, 40e3, 12) });
    const found = bandwidth(wide);
    expect(found.reference_db).toBeCloseTo(40, 1);
    expect(Math.abs(found.low_hertz! / 30 - 1)).toBeLessThan(0.01);
    expect(Math.abs(found.high_hertz! / 15e3 - 1)).toBeLessThan(0.01);
  });

  test("The gain at 1 kHz is interpolated over log frequency.", () => {
    const slope = {
      ...response({ path: "a", gain: 1, low: 1, high: 1e9, hertz: [800, 1250] }),
      gain_db: [0, 2],
    };
    expect(bandwidth(slope).reference_db).toBeCloseTo(1, 9);
  });

  test("Where 1 kHz itself was computed, that value is taken.", () => {
    const peak = {
      ...response({ path: "a", gain: 1, low: 1, high: 1e9, hertz: [900, 1000, 1100] }),
      gain_db: [0, 7, 0],
    };
    expect(bandwidth(peak).reference_db).toBe(7);
  });

  test("Points the range does not reach are undefined.", () => {
    const found = bandwidth(response({ path: "a", gain: 10, low: 1, high: 9e3 }));
    expect(found.low_hertz).toBeUndefined();
    expect(found.high_hertz! / 9e3).toBeCloseTo(1, 1);
  });

  test("A range without 1 kHz has no reference and no half-power points, but a greatest gain.", () => {
    const found = bandwidth(response({ path: "a", gain: 10, low: 1, high: 60e3, hertz: sweep(40e3, 90e3) }));
    expect(found).toMatchObject({ reference_db: undefined, low_hertz: undefined, high_hertz: undefined });
    expect(found.greatest_hertz).toBeCloseTo(40e3, 6);
  });

  test("Between points more than an octave apart nothing is interpolated.", () => {
    const found = bandwidth(response({ path: "a", gain: 10, low: 300, high: 2e3, hertz: [50, 1000, 10000] }));
    expect(found.reference_db).toBeDefined();
    expect(found.low_hertz).toBeUndefined();
    expect(found.high_hertz).toBeUndefined();
  });

  test("The order of the frequencies does not matter.", () => {
    const upward = response({ path: "a", gain: 10, low: 60, high: 9e3 });
    const downward = {
      ...upward,
      hertz: upward.hertz.toReversed(),
      gain_db: upward.gain_db.toReversed(),
    };
    expect(bandwidth(downward)).toEqual(bandwidth(upward));
  });

  test("A notch below 1 kHz ends the band there, whatever comes beneath it.", () => {
    const hertz = [250, 500, 1000];
    const notched = { ...response({ path: "a", gain: 1, low: 1, high: 1e9, hertz }), gain_db: [20, -40, 0] };
    const found = bandwidth(notched);
    expect(found.greatest_db).toBe(20);
    expect(found.low_hertz).toBeGreaterThan(900);
  });

  test("Silence has no reference.", () => {
    expect(bandwidth(dumb)).toMatchObject({ reference_db: undefined, greatest_db: -400 });
  });
});
