import { describe, expect, test } from "vitest";
import { widthOf } from "../../src/report/columns.ts";
import { responseTable, summary } from "../../src/report/response-table.ts";
import { dumb, headCurrent, playback, recording, response, sweep } from "./fixtures.ts";
import { expectGolden } from "./golden.ts";

const terminal = { width: 80, color: false };

describe("the table of a response", () => {
  test("Two paths have a pair of columns each, and a line of what one reads off them.", () => {
    expectGolden("response-two-paths.txt", responseTable([playback, headCurrent], terminal));
  });

  test("Paths at different frequencies share one column of frequencies, with gaps.", () => {
    const low = response({ path: "low", gain: 10, low: 20, high: 9e3, hertz: [100, 1000] });
    const high = response({ path: "high", gain: 10, low: 20, high: 9e3, hertz: [1000, 63000] });
    expectGolden("response-gaps.txt", responseTable([low, high], terminal));
  });

  test("The same path in two modes is told apart by the mode.", () => {
    const text = responseTable([playback, { ...playback, mode: "record" }], terminal);
    expect(text).toContain("playback in play");
    expect(text).toContain("playback in record");
  });

  test.each([30, 40, 60, 80])("No line of the table is longer than %i columns.", (width) => {
    const lines = responseTable([playback, recording, headCurrent], { width, color: false }).split("\n");
    expect(Math.max(...lines.map(widthOf))).toBeLessThanOrEqual(width);
  });

  test("A path without output has dashes for gain and phase, and is called so.", () => {
    const text = responseTable([dumb], terminal);
    expect(text.split("\n")[3]).toMatch(/20 +– +–$/);
    expect(text).toContain("no output");
    expect(text).not.toMatch(/Infinity|NaN|400/);
  });

  test("No response is no table.", () => {
    expect(responseTable([], terminal)).toBe("");
  });
});

describe("the summary of a response", () => {
  const spaced = (text: string) => text.replaceAll("\u00a0", " ");

  test("An end of the band that the range does not reach is named.", () => {
    // half the power at 1 kHz: 9 kHz·√(1 + 2/81)
    const low = response({ path: "a", gain: 10, low: 1, high: 9e3 });
    expect(spaced(summary(low))).toMatch(/−3 dB re 1 kHz at 9\.11 kHz, the lower point not in the range$/);
    // 60 Hz / √(1 + 2·0.06²) = 59.8 Hz, less what the straight line between points misses
    const high = response({ path: "a", gain: 10, low: 60, high: 1e6 });
    expect(spaced(summary(high))).toMatch(/−3 dB re 1 kHz at 59\.[89] Hz, the upper point not in the range$/);
  });

  test("Without 1 kHz in the range it says that the −3 dB points need it.", () => {
    const bias = response({ path: "a", gain: 10, low: 1, high: 60e3, hertz: sweep(40e3, 90e3) });
    expect(spaced(summary(bias))).toBe("greatest 18.4 dB at 40 kHz; −3 dB points need the gain at 1 kHz");
  });

  test("The gain of a current names its reference.", () => {
    expect(spaced(summary(headCurrent))).toMatch(/^−22\.0 dB re 1 A\/V at 1 kHz; /);
  });
});
