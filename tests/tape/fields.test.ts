import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { evenField, FIELDS, limitsAt, PORTABLE, place, type ToleranceField } from "../../src/tape/fields.ts";
import { exactFrequency, preferredBetween } from "../../src/tape/preferred.ts";

const din = FIELDS.find(({ name }) => name === "DIN 45500")!;
const points = (levels: readonly (readonly [number, number])[]) =>
  levels.map(([hertz, decibels]) => ({ hertz, decibels }));

describe("a tolerance field", () => {
  it("of DIN 45 500 is 5 dB wide from 250 to 6300 Hz and 7 dB from 40 to 12500 Hz", () => {
    // DIN 45 500 sheet 4, April 1975, as printed by tonbandmuseum.info and KlangBild 1977
    const width = (hertz: number) => {
      const limits = limitsAt(din, hertz);
      return limits && limits.greatest - limits.least;
    };
    expect([40, 200, 249].map(width)).toEqual([7, 7, 7]);
    expect([250, 1000, 6300].map(width)).toEqual([5, 5, 5]);
    expect([6301, 12500].map(width)).toEqual([7, 7]);
    expect([39, 12501].map(width)).toEqual([undefined, undefined]);
  });

  it("that floats is shifted so that the least margin is greatest", () => {
    const placed = place(
      din,
      points([
        [100, 0],
        [1000, 4],
        [10000, 2],
      ]),
    );
    // in the middle the curve needs −2.5…2.5 about 4, at 100 Hz −3.5…3.5 about 0: half-way is 2.5
    expect(placed?.shift).toBeCloseTo(2.5, 12);
    expect(placed?.margin).toBeCloseTo(1, 12);
  });

  it("that does not float stays where it is, and names the frequency that limits", () => {
    expect(
      place(
        PORTABLE,
        points([
          [100, -1],
          [1000, 0],
          [8000, 2.5],
          [20000, 9],
        ]),
      ),
    ).toEqual({
      shift: 0,
      margin: 0.5,
      hertz: 8000,
    });
    expect(
      place(
        PORTABLE,
        points([
          [100, -4],
          [1000, 0],
        ]),
      ),
    ).toEqual({ shift: 0, margin: -1, hertz: 100 });
  });

  it("has nothing to say where no point lies in its range", () => {
    expect(
      place(
        PORTABLE,
        points([
          [20, 0],
          [20000, 0],
        ]),
      ),
    ).toBeUndefined();
  });

  it("placed by itself leaves no other place with a greater margin", () => {
    const curve = fc.array(
      fc.tuple(fc.integer({ min: 40, max: 12500 }), fc.double({ min: -20, max: 20, noNaN: true })),
      {
        minLength: 1,
        maxLength: 12,
      },
    );
    fc.assert(
      fc.property(curve, fc.double({ min: -30, max: 30, noNaN: true }), (levels, shift) => {
        const fixed: ToleranceField = { ...din, floats: false };
        const moved = levels.map(([hertz, decibels]) => [hertz, decibels - shift] as const);
        expect(place(din, points(levels))!.margin).toBeGreaterThanOrEqual(
          place(fixed, points(moved))!.margin - 1e-9,
        );
      }),
    );
  });

  it("of any width reaches so far either way", () => {
    expect(limitsAt(evenField(2), 1000)).toMatchObject({ least: -2, greatest: 2 });
  });
});

describe("the preferred frequencies", () => {
  it("are those of ISO 266 from 20 Hz to 20 kHz", () => {
    // ISO 266:1997, series R10 on 1000 Hz
    expect(preferredBetween(20, 20_000)).toEqual([
      20, 25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000,
      2500, 3150, 4000, 5000, 6300, 8000, 10000, 12500, 16000, 20000,
    ]);
  });

  it("stand for exact ones, ten to the decade", () => {
    expect(exactFrequency(31.5)).toBeCloseTo(31.623, 3);
    expect(exactFrequency(6300)).toBeCloseTo(6309.573, 3);
    expect(exactFrequency(1000)).toBe(1000);
  });
});
