import { describe, expect, it } from "vitest";
import { drawDiagnostic, nearestWord } from "../../src/language/index.ts";

const diagnostic = {
  severity: "error",
  message: "It is wrong",
  hint: "make it right",
  file: "a.netlist",
  line: 2,
  column: 10,
  length: 2,
} as const;

describe("A diagnostic is drawn", () => {
  it("with its place, the line, the place marked beneath it, and the hint", () => {
    expect(drawDiagnostic(diagnostic, "one\nresistor R1 4k7 a to b\nthree")).toBe(
      [
        "a.netlist:2:10: error: It is wrong",
        "    resistor R1 4k7 a to b",
        "             ‾‾",
        "    → make it right",
      ].join("\n"),
    );
  });

  it("without the line where the text is not at hand or the line is empty", () => {
    expect(drawDiagnostic(diagnostic, undefined).split("\n")).toHaveLength(2);
    expect(drawDiagnostic({ ...diagnostic, line: 1, column: 1, length: 0 }, "").split("\n")).toHaveLength(2);
  });

  it("with the mark under its word behind tabs", () => {
    const drawn = drawDiagnostic(diagnostic, "one\n\tresist\tR1\t4k7").split("\n");
    expect(drawn[1]).toBe("     resist R1 4k7");
    expect(drawn[2]?.indexOf("‾")).toBe(drawn[1]?.indexOf("1"));
  });

  it("with a long line cut around the mark", () => {
    const line = `${"a ".repeat(200)}HERE${" b".repeat(200)}`;
    const [, text = "", mark = ""] = drawDiagnostic(
      { ...diagnostic, line: 1, column: 401, length: 4 },
      line,
    ).split("\n");
    expect(text.length).toBeLessThan(115);
    expect(text.slice(mark.indexOf("‾"), mark.lastIndexOf("‾") + 1)).toBe("HERE");
  });

  it("in colour only where asked for", () => {
    expect(drawDiagnostic(diagnostic, undefined)).not.toContain("\u001b");
    expect(drawDiagnostic(diagnostic, undefined, true)).toContain("\u001b[31m");
  });
});

describe("The nearest known word", () => {
  it.each([
    ["resitor", "resistor"],
    ["resistro", "resistor"],
    ["RESISTOR", "resistor"],
    ["capaciter", "capacitor"],
    ["Wire", "wire"],
    ["wier", "wire"],
  ])("to %s is %s", (word, nearest) => {
    expect(nearestWord(word, ["resistor", "capacitor", "wire", "R1"])).toBe(nearest);
  });

  it("is within a third of the word's length, or there is none", () => {
    expect(nearestWord("resist", ["resistor"])).toBe("resistor");
    expect(nearestWord("resi", ["resistor"])).toBeUndefined();
    expect(nearestWord("R2", ["R1", "R3"])).toBeUndefined();
    expect(nearestWord("wire", ["wire"])).toBeUndefined();
    expect(nearestWord("x", [])).toBeUndefined();
  });
});
