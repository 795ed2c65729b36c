import { Text } from "@codemirror/state";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { changeBetween, rangeOf } from "../../../src/page/editor/places.ts";

describe("places in the editor", () => {
  it("mark the words of a diagnostic, the whole line where it names none", () => {
    const text = Text.of(["battery B1", "resistr R1 4k7"]);
    expect(rangeOf({ line: 2, column: 1, length: 7 }, text)).toEqual({ from: 11, to: 18 });
    expect(rangeOf({ line: 2, column: 9, length: 0 }, text)).toEqual({ from: 11, to: 25 });
  });

  it("lie within the text, however old the diagnostic is", () => {
    const place = fc.record({ line: fc.nat(20), column: fc.nat(80), length: fc.nat(80) });
    fc.assert(
      fc.property(fc.array(fc.stringMatching(/^[a-z ]*$/), { minLength: 1 }), place, (lines, at) => {
        const text = Text.of(lines);
        const { from, to } = rangeOf(at, text);
        expect(0 <= from && from <= to && to <= text.length).toBe(true);
      }),
    );
  });

  it("change one text into another by the piece in which they differ", () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[ab\n]*$/), fc.stringMatching(/^[ab\n]*$/), (old, next) => {
        const { from, to, insert } = changeBetween(old, next);
        expect(old.slice(0, from) + insert + old.slice(to)).toBe(next);
      }),
    );
    expect(changeBetween("R1 4k7 rail", "R1 5k6 rail")).toEqual({ from: 3, to: 6, insert: "5k6" });
  });
});
