import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { bandText, wasText } from "../../src/page/sections/voltage-text.ts";
import { asMetered, markOf, noted, readingVolts } from "../../src/page/state/marks.ts";

describe("a reading", () => {
  it("without a sign takes that of what is expected", () => {
    expect(readingVolts("1.43", -1.4)).toBeCloseTo(-1.43, 12);
    expect(readingVolts("1,43", 1.4)).toBeCloseTo(1.43, 12);
    expect(readingVolts("+1.43", -1.4)).toBeCloseTo(1.43, 12);
    expect(readingVolts("\u22121.43", 1.4)).toBeCloseTo(-1.43, 12);
  });

  it("may be in millivolts", () => {
    expect(readingVolts("-150 mV")).toBeCloseTo(-0.15, 12);
  });

  it("is none where nothing is written, and a sentence where it is no voltage", () => {
    expect(readingVolts("  ")).toBeUndefined();
    expect(readingVolts("about a volt")).toHaveProperty("message");
  });

  it("is as exact as its last digit", () => {
    expect(noted("-3.1")).toBeCloseTo(0.05, 12);
    expect(noted("3")).toBeCloseTo(0.5, 12);
    expect(noted("150 mV")).toBeCloseTo(0.0005, 12);
  });
});

describe("the mark of a reading", () => {
  const band = { least: -3.7, greatest: -2.5 };

  it("says on which side of the band it lies", () => {
    expect(markOf(-0.4, 0.05, band)).toBe("above");
    expect(markOf(-9, 0.5, band)).toBe("below");
    expect(markOf(-3, 0.05, band)).toBe("inside");
  });

  it("grants the rounding of its last digit", () => {
    expect(markOf(-2.46, 0.05, band)).toBe("inside");
    expect(markOf(-2.44, 0.05, band)).toBe("above");
  });

  it("is none anywhere within the band", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (share) => {
        expect(markOf(band.least + share * 1.2, 0, band)).toBe("inside");
      }),
    );
  });
});

describe("a band as a meter reads it", () => {
  it("is drawn towards chassis by the meter's share", () => {
    const { least, greatest } = asMetered({ least: -2, greatest: -1 }, -1.5, -1.2);
    expect(least).toBeCloseTo(-1.6, 12);
    expect(greatest).toBeCloseTo(-0.8, 12);
  });

  it("is left alone without a meter, and where the meter turns nothing to nothing", () => {
    const band = { least: -2, greatest: -1 };
    expect(asMetered(band, -1.5, undefined)).toEqual(band);
    expect(asMetered(band, 0, 0)).toEqual(band);
  });
});

describe("the text of a band", () => {
  it("leaves out signs that are all the same, the smaller figure first", () => {
    expect(bandText({ least: -1.45, greatest: -1.18 })).toBe("1.18…1.45");
    expect(bandText({ least: 1.18, greatest: 1.45 })).toBe("1.18…1.45");
    expect(bandText({ least: -0.05, greatest: 0.12 })).toBe("−0.050…0.120");
  });
});

describe("what a figure was", () => {
  it("is shown when it moved by more than a digit as written", () => {
    expect(wasText(-1.31, -1.35)).toBe("−1.31");
    expect(wasText(-1.31, -1.32)).toBe("");
    expect(wasText(-1.311, -1.309)).toBe("");
    expect(wasText(undefined, -1.3)).toBe("");
  });
});
