import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { frequencyAxis, gainAxis, phaseAxis } from "../../src/report/axes.ts";
import { curvesOf, unwrapped } from "../../src/report/curves.ts";
import { dumb, headCurrent, playback, recording, response, sweep } from "./fixtures.ts";

describe("curves", () => {
  test("Unwrapped phase never steps by more than half a turn, and differs from the given by whole turns.", () => {
    const phases = fc.array(fc.double({ min: -180, max: 180, noNaN: true }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(phases, (given) => {
        const hertz = given.map((_, i) => 50 * 1.3 ** i);
        const found = unwrapped(given, hertz).map((phase) => phase!);
        found.slice(1).forEach((phase, i) => {
          expect(Math.abs(phase - found[i]!)).toBeLessThanOrEqual(180 + 1e-9);
        });
        found.forEach((phase, i) => {
          const turns = (phase - given[i]!) / 360;
          expect(turns).toBeCloseTo(Math.round(turns), 9);
        });
      }),
    );
  });

  test("The phase of three coinciding low-pass corners and one high-pass runs from near +90° towards −270°.", () => {
    const [curve] = curvesOf([
      response({ path: "a", gain: 1, low: 20, high: 1e3, order: 3, hertz: sweep(1, 1e6, 3) }),
    ]).curves;
    expect(curve!.points[0]!.phase).toBeGreaterThan(80);
    expect(curve!.points.at(-1)!.phase).toBeLessThan(-269);
  });

  test("Voltages share the scale of V/V; with a current among them each is relative to its 1 kHz.", () => {
    expect(curvesOf([playback, recording]).reference).toBe("dB re 1 V/V");
    expect(curvesOf([headCurrent]).reference).toBe("dB re 1 A/V");
    const mixed = curvesOf([playback, headCurrent, dumb]);
    expect(mixed.reference).toMatch(/relative/);
    for (const curve of mixed.curves.slice(0, 2)) {
      const near = curve.points.reduce((a, b) =>
        Math.abs(b.hertz - 1000) < Math.abs(a.hertz - 1000) ? b : a,
      );
      expect(Math.abs(near.gain)).toBeLessThan(0.1);
    }
  });

  test("Where there is no output there is no phase.", () => {
    expect(curvesOf([dumb]).curves[0]!.points.every(({ phase }) => phase === undefined)).toBe(true);
  });
});

describe("axes", () => {
  test("A gain axis has round steps, holds the curves, and a notch does not stretch it past 100 dB.", () => {
    const gain = fc.oneof(
      fc.double({ min: -140, max: 140, noNaN: true }),
      fc.constant(Number.NEGATIVE_INFINITY),
    );
    fc.assert(
      fc.property(
        fc.array(gain, { minLength: 2, maxLength: 12 }),
        fc.integer({ min: 3, max: 10 }),
        (gains, n) => {
          const given = response({
            path: "a",
            gain: 1,
            low: 1,
            high: 1e6,
            hertz: sweep(100, 1e5, 6).slice(0, gains.length),
          });
          const { curves } = curvesOf([{ ...given, gain_db: gains }]);
          const axis = gainAxis(curves, n);
          const heard = gains.filter(Number.isFinite);
          expect(axis.high).toBeGreaterThanOrEqual(Math.max(-400, ...heard) - 1e-6);
          expect(axis.high - axis.low).toBeLessThanOrEqual(200);
          expect(axis.ticks.length).toBeGreaterThanOrEqual(2);
          expect(axis.ticks.length).toBeLessThanOrEqual(n + 1);
          expect(axis.ticks[0]).toBe(axis.low);
        },
      ),
    );
  });

  test("From 20 Hz to 20 kHz the labels are the preferred 20, 50, 100 and so on, the marks all whole multiples.", () => {
    const axis = frequencyAxis(curvesOf([playback]).curves, () => 3);
    expect(axis.labels).toEqual([20, 50, 100, 200, 500, 1000, 2000, 5000, 10000, 20000]);
    expect(axis.marks).toContain(700);
  });

  test("Where labels have no room only the decades are labelled.", () => {
    const axis = frequencyAxis(curvesOf([playback]).curves, () => 2);
    expect(axis.labels).toEqual([100, 1000, 10000]);
  });

  test("A narrow range has evenly spaced labels, a single frequency room on both sides.", () => {
    const narrow = response({ path: "a", gain: 1, low: 1, high: 1e6, hertz: sweep(55e3, 70e3, 40) });
    expect(frequencyAxis(curvesOf([narrow]).curves, () => 3).labels.slice(0, 3)).toEqual([56e3, 58e3, 60e3]);
    const one = response({ path: "a", gain: 1, low: 1, high: 1e6, hertz: [1000] });
    const axis = frequencyAxis(curvesOf([one]).curves, () => 3);
    expect([axis.low, axis.high]).toEqual([500, 2000]);
  });

  test("A phase axis goes in fractions of a right angle.", () => {
    const axis = phaseAxis(curvesOf([playback]).curves, 6);
    expect(axis.ticks).toEqual([-270, -180, -90, 0, 90]);
  });
});
