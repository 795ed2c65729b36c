import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { harmless, layOut, widthOf, wrap } from "../../src/report/columns.ts";
import { spreadOut } from "../../src/report/spread-out.ts";

describe("columns", () => {
  test("Decimal points stand below one another; words end with the column.", () => {
    const lines = layOut([["V"], ["−12.3"], ["0.143"], ["4"], ["open"]], [{ align: "point" }]);
    expect(lines).toEqual(["      V", "−12.3  ", "  0.143", "  4    ", "   open"]);
  });

  test("All lines of a table are equally long, however wide their characters are coded.", () => {
    const cell = fc.oneof(fc.constantFrom("−1.5", "µ", "open", "12", "🎙"), fc.string({ unit: "grapheme" }));
    const rows = fc.array(fc.array(cell, { minLength: 3, maxLength: 3 }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(rows, (table) => {
        const lines = layOut(table, [{ align: "left" }, { align: "right" }, { align: "point" }]);
        expect(new Set(lines.map(widthOf)).size).toBe(1);
      }),
    );
  });

  test("Wrapped text keeps every word and the width, and a number stays with its unit.", () => {
    expect(wrap("gain 62.3\u00a0dB at 1\u00a0kHz", 12)).toEqual(["gain 62.3 dB", "  at 1 kHz"]);
  });

  test("Text from a file cannot steer the terminal.", () => {
    expect(harmless("a\u001b[31mb\u0007\r\nc\u202ed")).toBe("a[31mbcd");
  });
});

describe("labels moved apart", () => {
  test("Labels that have room stay where they are.", () => {
    expect(spreadOut([10, 50, 90], 12, 0, 100)).toEqual([10, 50, 90]);
  });

  test("Labels never come closer than the spacing, keep their order and stay within the limits.", () => {
    const places = fc.array(fc.double({ min: 0, max: 260, noNaN: true }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(places, (wanted) => {
        const placed = spreadOut(wanted, 14, 0, 260);
        const sorted = placed.toSorted((a, b) => a - b);
        sorted.slice(1).forEach((place, i) => {
          expect(place - sorted[i]!).toBeGreaterThanOrEqual(14 - 1e-9);
        });
        expect(sorted[0]).toBeGreaterThanOrEqual(-1e-9);
        expect(sorted.at(-1)).toBeLessThanOrEqual(260 + 1e-9);
        wanted.forEach((a, i) => {
          wanted.forEach((b, j) => {
            if (a < b) expect(placed[i]).toBeLessThan(placed[j]!);
          });
        });
      }),
    );
  });
});
