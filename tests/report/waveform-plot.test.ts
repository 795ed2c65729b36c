import { describe, expect, it } from "vitest";
import type { Waveform } from "../../src/bench/waveform/results.ts";
import { readNetlist } from "../../src/index.ts";
import { waveformPlot } from "../../src/report/waveform-plot.ts";

/** A supply at rest, but for rounding. */
function resting(values: readonly number[]): Waveform {
  const [least, greatest] = [Math.min(...values), Math.max(...values)];
  return {
    mode: "as-drawn",
    seconds: values.map((_, k) => k),
    nets: { rail: values },
    marks: [],
    readings: { rail: { least, greatest, last: values.at(-1)! } },
    paths: [],
  };
}

describe("The plot of waveforms in a terminal", () => {
  it("draws what moves by rounding only as one level line", () => {
    const { circuit } = readNetlist(
      "battery B1 4.5 V plus rail minus chassis\nresistor R1 1k rail to chassis\n",
    );
    const values = Array.from({ length: 100 }, (_, k) => 4.5 + (k % 3 === 0 ? 1e-13 : -1e-13));
    const text = waveformPlot(circuit!, [resting(values)], { width: 100, color: false });
    const drawn = text.match(/[\u2801-\u28ff]+/g);
    expect(drawn).toHaveLength(1);
    expect(new Set(drawn![0]).size).toBe(1);
  });
});
