import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { keptCurrent, shownCurrent } from "../../src/page/sections/current-field.tsx";
import { bandText, changeText, wasText } from "../../src/page/sections/voltage-text.ts";
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
    expect(noted("0.4 mA")).toBeCloseTo(5e-5, 12);
    expect(noted("480 µA")).toBeCloseTo(5e-7, 12);
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

describe("old and new", () => {
  it("stand beside each other, without signs where they are the same", () => {
    expect(changeText("−0.019", "−0.039")).toBe("0.019\u2009→\u20090.039");
    expect(changeText("5.82", "11.5")).toBe("5.82\u2009→\u200911.5");
    expect(changeText("−0.1", "0.2")).toBe("−0.1\u2009→\u20090.2");
  });
});

describe("a current typed in the chart", () => {
  it("is kept with the unit that stands beside the figure, and shown without it", () => {
    expect(keptCurrent("0.9")).toBe("0.9 mA");
    expect(shownCurrent("0.9 mA")).toBe("0.9");
    expect(keptCurrent("480 µA")).toBe("480 µA");
    expect(shownCurrent("480 µA")).toBe("480 µA");
    expect(keptCurrent("")).toBe("");
  });

  it("is shown as it was typed, figure by figure", () => {
    fc.assert(
      fc.property(fc.stringMatching(/^−?\d{0,3}[.,]?\d{0,3}$/), (typed) => {
        expect(shownCurrent(keptCurrent(typed))).toBe(typed);
      }),
    );
  });
});
