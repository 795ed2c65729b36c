import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { lossAt, readLossCurve } from "../../src/tape/loss-curve.ts";

const curve = (text: string) => {
  const found = readLossCurve(text);
  if ("message" in found) throw new Error(found.message);
  return found;
};

describe("a table of what a medium loses", () => {
  it("is read in any order, with remarks, quotes, blank lines, other columns and foreign line ends", () => {
    const wanted = [
      { hertz: 100, decibels: 0.5 },
      { hertz: 10000, decibels: 9 },
    ];
    const texts = [
      "hertz,db\n100,0.5\n10000,9\n",
      "\ufeffhertz,db\r\n10000,9\r\n100,0.5",
      '# mine\n\n"Hertz", "dB", note\n100, 0.5, "bass"\n\n1e4, +9, treble\n',
      "db;hertz\n0,5;100\n9,0;10000\n",
      "hertz\tdb\n100\t.5\n10000\t9",
    ];
    for (const text of texts) expect(curve(text), text).toEqual(wanted);
  });

  it.each([
    ["", 1, 1, "nothing in it"],
    ["# only\n", 1, 1, "nothing in it"],
    ["1000,2\n", 1, 1, "no column is called hertz"],
    ["hertz,level\n1000,2\n", 1, 1, "no column is called db"],
    ["hertz,db\n1000,2\n2000\n", 3, 1, "column db is missing"],
    ["hertz,db\n1000,2\n2000,much\n", 3, 6, '"much" is no loss'],
    ["hertz,db\n1000,2\n-5,1\n", 3, 1, '"-5" is no frequency'],
    ["hertz,db\n1000,2\nNaN,1\n", 3, 1, '"NaN" is no frequency'],
    ["hertz,db\n1000,2\n2000,1e9\n", 3, 6, '"1e9" is no loss'],
    ["hertz,db\n1000,2\n1000,3\n", 3, 1, "twice"],
    ["hertz,db\n1000,2\n", 1, 1, "two frequencies"],
  ])("that cannot be read is refused with the place: %j", (text, line, column, message) => {
    const found = readLossCurve(text);
    expect(found).toMatchObject({ line, column });
    expect("message" in found && found.message).toContain(message);
  });

  it("of whatever text gives a curve or a place, never a number that is none", () => {
    const text = fc.oneof(
      fc.string(),
      fc.string().map((body) => `hertz,db\n${body}`),
    );
    fc.assert(
      fc.property(text, (each) => {
        const found = readLossCurve(each);
        if ("message" in found) expect(found.line).toBeGreaterThanOrEqual(1);
        else expect(found.every(({ hertz, decibels }) => hertz > 0 && Number.isFinite(decibels))).toBe(true);
      }),
    );
  });

  it("is straight over log frequency between its points, exact at them, and ends with them", () => {
    const read = curve("hertz,db\n100,1\n10000,5\n");
    expect(lossAt(read, 100)).toBe(1);
    expect(lossAt(read, 1000)).toBeCloseTo(3, 12);
    expect(lossAt(read, 10000)).toBe(5);
    expect(lossAt(read, 99)).toBeUndefined();
    expect(lossAt(read, 10001)).toBeUndefined();
  });
});
