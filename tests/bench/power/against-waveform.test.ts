import { describe, expect, it } from "vitest";
import { power, readNetlist } from "../../../src/index.ts";
import { waveformOf } from "../waveform/run.ts";
import { OUTPUT_PAIR } from "./output-pair.ts";

/** What `power` says of one level, by harmonic balance. */
function balanced(emf: number) {
  const { circuit } = readNetlist(OUTPUT_PAIR);
  const { results } = power(circuit!, { hertz: 1000, levels: [emf], paths: ["output"], variants: [] });
  return results[0]!.points[0]!;
}

/** What is read off the wave at the same level, in time. */
function inTime(emf: number) {
  const { readings } = waveformOf(OUTPUT_PAIR, {
    seconds: 0.04,
    start: { from: "point", displaced: [] },
    tones: [{ part: "G1", hertz: 1000, volts: emf }],
    shown: [
      { kind: "current", part: "LS1", name: "load" },
      { kind: "current", part: "B1", name: "supply" },
    ],
    tolerance: 1e-5,
  });
  return { load: readings.load!.periodic!, supply: readings.supply!.periodic! };
}

// at 2 V each transistor is cut off for half of every period, from one moment to the next
describe.each([1, 2])("Output power by harmonic balance and by a run in time, at %s V", (emf) => {
  const point = balanced(emf);
  const { load, supply } = inTime(emf);

  it("has the same distortion and the same harmonics, to 2 % of the distortion", () => {
    const [first = 0, ...rest] = load.harmonics;
    for (const [k, share] of point.harmonics.slice(0, 6).entries())
      expect(Math.abs(rest[k]! / first - share)).toBeLessThan(0.02 * point.distortion);
    expect(load.distortion / point.distortion).toBeCloseTo(1, 1);
  });

  it("is I²·R of the load's resistance at the current read off the wave", () => {
    const { circuit } = readNetlist(OUTPUT_PAIR);
    const { impedance = 0 } = circuit!.parts.find(({ name }) => name === "LS1")!.values;
    expect(point.output_watts! / (load.rms ** 2 * impedance)).toBeCloseTo(1, 3);
    // with so little distortion also the square of the fundamental over it
    expect(point.output_watts! / (point.output ** 2 / impedance)).toBeCloseTo(1, 3);
  });

  it("draws the mean current read off the wave from the battery", () => {
    const { circuit } = readNetlist(OUTPUT_PAIR);
    const volts = circuit!.parts.find(({ name }) => name === "B1")!.values.emf!;
    expect(Math.abs(supply.mean * volts) / point.supply_watts).toBeCloseTo(1, 2);
  });
});
