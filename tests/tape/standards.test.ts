import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fluxDecibels } from "../../src/tape/equalisation.ts";
import { readSpeed } from "../../src/tape/speed.ts";
import { findStandard, namesAt, readTimeConstants, STANDARDS, speedsWith } from "../../src/tape/standards.ts";

describe("a standard", () => {
  it("is found by every name that is listed at its speed", () => {
    for (const { speed } of STANDARDS) {
      for (const name of namesAt(speed)) expect(findStandard(name, speed), name).toBeDefined();
    }
  });

  it("has a name of its own at its speed", () => {
    for (const { speed } of STANDARDS) {
      const bare = namesAt(speed).map((name) => name.toLowerCase().replaceAll(/[^a-z0-9]/g, ""));
      expect(bare.filter((name, i) => bare.indexOf(name) !== i)).toEqual([]);
    }
  });

  it("is known by its name in whatever capitals, with hyphens or blanks, at the rounded speed too", () => {
    const wanted = findStandard("DIN 1962", 0.0953);
    expect(wanted?.high).toBeCloseTo(120e-6, 12);
    for (const name of ["din1962", "DIN-1962", " Din 1962 "]) expect(findStandard(name, 0.095)).toBe(wanted);
  });

  it("is another at another speed", () => {
    expect(findStandard("NAB", 0.0953)?.high).toBeCloseTo(90e-6, 12);
    expect(findStandard("NAB", 0.19)?.high).toBeCloseTo(50e-6, 12);
    expect(findStandard("NAB", 0.3)).toBeUndefined();
    expect(speedsWith("nab").map((speed) => (100 * speed).toFixed(2))).toEqual([
      "38.10",
      "19.05",
      "9.53",
      "4.76",
    ]);
    expect(speedsWith("nobody")).toEqual([]);
  });
});

describe("time constants", () => {
  it("are read bass first, in microseconds, with or without a bass", () => {
    expect(readTimeConstants("3180/120")).toEqual({ low: 3180e-6, high: 120e-6 });
    expect(readTimeConstants(" 1590 / 70 µs")).toEqual({ low: 1590e-6, high: 70e-6 });
    expect(readTimeConstants("inf/17,5")).toEqual({ low: Number.POSITIVE_INFINITY, high: 17.5e-6 });
    expect(readTimeConstants("∞/35us")).toEqual({ low: Number.POSITIVE_INFINITY, high: 35e-6 });
  });

  it("are none where something is missing, is nothing, or stands the wrong way round", () => {
    for (const text of ["120", "120/3180", "0/0", "inf/0", "50/50", "-3180/120", "NAB", "3180/", "/70", ""]) {
      expect(readTimeConstants(text), text).toBeUndefined();
    }
  });

  it("make the flux fall with frequency, always, and never give what is no number", () => {
    const seconds = fc.double({ min: 1e-7, max: 1e-1, noNaN: true });
    const low = fc.oneof(seconds, fc.constant(Number.POSITIVE_INFINITY));
    const hertz = fc.double({ min: 0.01, max: 1e7, noNaN: true });
    fc.assert(
      fc.property(low, seconds, hertz, fc.double({ min: 1.01, max: 10, noNaN: true }), (a, b, f, ratio) => {
        const [here, above] = [
          fluxDecibels({ low: a, high: b }, f),
          fluxDecibels({ low: a, high: b }, f * ratio),
        ];
        expect(Number.isFinite(here) && Number.isFinite(above)).toBe(true);
        expect(above).toBeLessThanOrEqual(here + 1e-9);
      }),
    );
  });
});

describe("tape speeds", () => {
  it("are read in centimetres and inches a second", () => {
    const cases = [
      ["9.53cm/s", 0.0953],
      ["9,5 cm/s", 0.095],
      ["3.75in/s", 0.09525],
      ["3¾ ips", 0.09525],
      ["1⅞in/s", 0.047625],
      ["7½ IPS", 0.1905],
      ["0.0953 m/s", 0.0953],
      ["95.3mm/s", 0.0953],
    ] as const;
    for (const [text, speed] of cases) expect(readSpeed(text), text).toBeCloseTo(speed, 9);
  });

  it("are none without a unit, without a number, or where no tape ran", () => {
    for (const text of ["9.53", "cm/s", "0cm/s", "-9.5cm/s", "9.53 Hz", "100m/s", "1e3cm/s", ""]) {
      expect(readSpeed(text), text).toBeUndefined();
    }
  });
});
