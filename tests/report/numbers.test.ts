import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  amps,
  celsius,
  decibels,
  decimal,
  finiteDecibels,
  hertz,
  hertzMark,
  hertzPlain,
  ohms,
  plain,
  signed,
  volts,
  watts,
  withUnit,
} from "../../src/report/numbers.ts";

const spaced = (text: string) => text.replaceAll("\u00a0", " ");

describe("numbers with a unit", () => {
  test.each([
    [volts(-0.1432), "−143 mV"],
    [volts(-8.9963), "−9.00 V"],
    [amps(0.00473), "4.73 mA"],
    [amps(4.1e-6), "4.10 µA"],
    [watts(0.0382), "38.2 mW"],
    [ohms(4700), "4.7 kΩ"],
    [ohms(1e6), "1 MΩ"],
    [ohms(100), "100 Ω"],
    [hertz(20), "20 Hz"],
    [hertz(12500), "12.5 kHz"],
    [hertz(63000), "63 kHz"],
    [volts(0), "0 V"],
    [amps(Number.NaN), "–"],
    [withUnit(2.5e10, "Hz"), "25.0 GHz"],
    [celsius(-3.6), "−4 °C"],
  ])("%s reads %s", (written, wanted) => {
    expect(spaced(written)).toBe(wanted);
  });

  test("A number that rounds up to a thousand takes the next prefix.", () => {
    expect(spaced(amps(0.0009999))).toBe("1.00 mA");
    expect(spaced(hertz(999.9))).toBe("1 kHz");
  });

  test("What is shown is within half a unit of the third digit of the number.", () => {
    const prefixes: Record<string, number> = { p: 1e-12, n: 1e-9, µ: 1e-6, m: 1e-3, "": 1, k: 1e3, M: 1e6 };
    const magnitude = fc.double({ min: 1e-11, max: 9e8, noNaN: true });
    fc.assert(
      fc.property(magnitude, fc.boolean(), (size, negative) => {
        const value = negative ? -size : size;
        const [digits, unit] = spaced(amps(value)).split(" ") as [string, string];
        const shown = Number(digits.replace("−", "-")) * prefixes[unit.replace("A", "")]!;
        expect(Math.abs(shown / value - 1)).toBeLessThan(0.00501);
      }),
    );
  });
});

describe("plain numbers", () => {
  test.each([
    [plain(-8.9963), "−9.00"],
    [plain(9.996), "10.0"],
    [plain(-0.1432), "−0.143"],
    [plain(-0.0002), "0"],
    [plain(123.4), "123"],
    [signed(0.042), "+0.04"],
    [signed(-1.017), "−1.02"],
    [signed(0.004), "0"],
    [decimal(-0.04, 1), "0.0"],
    [hertzPlain(89.7965), "89.8"],
    [hertzPlain(12500), "12500"],
    [hertzMark(12500), "12.5k"],
    [hertzMark(50), "50"],
    [decibels(62.34), "62.3"],
    [decibels(-400), "–"],
  ])("%s reads %s", (written, wanted) => {
    expect(written).toBe(wanted);
  });

  test("A gain of zero counts −400 dB, and nothing counts less.", () => {
    expect(finiteDecibels(Number.NEGATIVE_INFINITY)).toBe(-400);
    expect(finiteDecibels(-1000)).toBe(-400);
    expect(finiteDecibels(Number.NaN)).toBe(-400);
    expect(finiteDecibels(-31.5)).toBe(-31.5);
  });
});
