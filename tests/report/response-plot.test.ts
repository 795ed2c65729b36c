import { describe, expect, test } from "vitest";
import { widthOf } from "../../src/report/columns.ts";
import { responsePlot } from "../../src/report/response-plot.ts";
import { dumb, headCurrent, playback, recording, response, sweep } from "./fixtures.ts";
import { expectGolden } from "./golden.ts";

const terminal = { width: 80, color: false };

/** Characters of the braille block that have dots. */
const dotted = (text: string) => [...text].filter((c) => c > "\u2800" && c <= "\u28ff").length;

describe("the plot in characters", () => {
  test("Two paths of voltage have one scale.", () => {
    expectGolden("plot-two-paths.txt", responsePlot([playback, recording], terminal));
  });

  test("A voltage and a current are each drawn relative to 1 kHz.", () => {
    expectGolden("plot-voltage-and-current.txt", responsePlot([playback, headCurrent], terminal));
  });

  test("A path without output is left out and disturbs no other.", () => {
    expect(responsePlot([playback, dumb], terminal)).toBe(responsePlot([playback], terminal));
    expect(responsePlot([dumb], terminal)).toBe("");
  });

  test("A notch down to nothing leaves the plot at its lower edge.", () => {
    const gain_db = playback.gain_db.map((gain, i) => (i === 30 ? Number.NEGATIVE_INFINITY : gain));
    expectGolden("plot-notch.txt", responsePlot([{ ...playback, gain_db }], terminal));
  });

  test("A single frequency is a spot.", () => {
    const spot = response({ path: "spot", gain: 10, low: 1, high: 1e6, hertz: [1000] });
    const text = responsePlot([spot], terminal);
    // a spot of two by two dots touches at most four cells, and the sample before the name has three
    expect(dotted(text)).toBeGreaterThan(3);
    expect(dotted(text)).toBeLessThanOrEqual(7);
  });

  test.each([40, 60, 80, 120])("No line is longer than %i columns, and the names are there.", (width) => {
    const text = responsePlot(
      [playback, { ...headCurrent, path: "recording current into the head" }, recording],
      { width, color: false },
    );
    expect(text).toContain("recording");
    expect(Math.max(...text.split("\n").map(widthOf))).toBeLessThanOrEqual(width);
    expect(text).toContain("playback");
  });

  test("Where there is no room there is no plot.", () => {
    expect(responsePlot([playback], { width: 20, color: false })).toBe("");
  });

  test("The plot is as high as asked for at most.", () => {
    for (const height of [8, 12, 20, 30]) {
      const text = responsePlot([playback, recording], { ...terminal, height });
      expect(text.split("\n").filter((line) => /[│┤]/.test(line)).length).toBeLessThanOrEqual(height);
    }
  });

  test("Two paths with the same curve differ by their dashes alone.", () => {
    const one = response({ path: "a", gain: 10, low: 1, high: 9e3 });
    const other = response({ path: "b", gain: 1000, low: 1, high: 9e3 });
    const text = responsePlot([one, other], terminal);
    const rows = text.split("\n").filter((line) => /[│┤]/.test(line));
    const half = Math.ceil(rows.length / 2);
    // the upper curve is dashed: the same line with fewer dots
    const dots = (lines: readonly string[]) =>
      [...lines.join("")]
        .filter((c) => c > "\u2800" && c <= "\u28ff")
        .reduce((sum, c) => sum + (c.codePointAt(0)! - 0x2800).toString(2).replaceAll("0", "").length, 0);
    expect(dots(rows.slice(0, half))).toBeLessThan(0.75 * dots(rows.slice(half)));
  });

  test("Frequencies outside the audible range are labelled, too.", () => {
    const bias = response({ path: "bias", gain: 10, low: 1, high: 60e3, hertz: sweep(40e3, 90e3, 12) });
    expect(responsePlot([bias], terminal)).toMatch(/50k +60k/);
  });
});
