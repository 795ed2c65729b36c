import { describe, expect, it } from "vitest";
import { type CompareConditions, compare } from "../../src/bench/compare.ts";
import { readLossCurve } from "../../src/tape/loss-curve.ts";
import { circuitOf, PLAIN, SWITCHED } from "./tape-circuits.ts";

const hertz = [50, 100, 200, 400, 800, 1000, 2000, 4000, 8000];
const circuit = circuitOf(SWITCHED);
const pathIn = (name: string, from = circuit) => {
  const path = from.paths.find((each) => each.name === name)!;
  return { path, mode: path.mode ?? "as-drawn" };
};
const pair = [pathIn("playback"), pathIn("recording")] as const;

function compared(more: Partial<CompareConditions> = {}) {
  const { results, failures } = compare(circuit, pair, { reference: 1000, ...more }, hertz);
  expect(failures).toEqual([]);
  return results[0]!;
}

/** Divider of 11 kΩ and a branch of 1 kΩ in series with X ohms of reactance, dB. */
const divider = (reactance: number) =>
  20 * Math.log10(Math.hypot(1000, reactance) / Math.hypot(12_000, reactance));
const play = (f: number) => divider(1 / (2 * Math.PI * f * 100e-9));
const record = (f: number) => divider(2 * Math.PI * f * 0.1);

describe("play against record", () => {
  it("has both curves re the reference frequency, their difference and their sum", () => {
    const result = compared();
    hertz.forEach((f, i) => {
      const [a, b] = [play(f) - play(1000), record(f) - record(1000)];
      expect(result.paths[0].gain_db[i]).toBeCloseTo(a, 3);
      expect(result.paths[1].gain_db[i]).toBeCloseTo(b, 3);
      expect(result.difference_db[i]).toBeCloseTo(a - b, 3);
      expect(result.sum_db[i]).toBeCloseTo(a + b, 3);
      expect(result.whole_pass_db[i]).toBeCloseTo(a + b, 3);
    });
    expect(result.paths[0].reference_db).toBeCloseTo(play(1000), 4);
  });

  it("names the parts that only one position of the switch connects, and what they do to each curve", () => {
    const { switched } = compared();
    expect(switched.map(({ part, mode }) => `${part} ${mode}`)).toEqual([
      "R1 play",
      "C1 play",
      "R2 record",
      "L1 record",
    ]);
    const [, c1, , l1] = switched;
    // without C1 the output is the EMF itself: the part does what the whole branch does
    expect(c1?.effects[0].level_db).toBeCloseTo(play(1000), 3);
    expect(c1?.effects[0].shape_hertz).toBe(50);
    expect(c1?.effects[0].shape_db).toBeCloseTo(play(50) - play(1000), 3);
    expect(c1?.effects[1].level_db).toBeCloseTo(0, 6);
    expect(l1?.effects[1].change_db?.[0]).toBeCloseTo(record(50) - record(1000), 3);
    expect(l1?.effects[0].shape_db).toBeCloseTo(0, 6);
  });

  it("names where the curves lie farthest apart, the farthest first", () => {
    const { apart, difference_db } = compared();
    const size = difference_db.map(Math.abs);
    expect(Math.abs(apart[0]!.difference_db)).toBe(Math.max(...size));
    expect(apart.map(({ hertz: f }) => f)).toEqual([8000, 50]);
  });

  it("takes off what the medium loses, re the reference, and has no whole pass beyond the table", () => {
    const tapeLoss = readLossCurve("hertz,db\n100,2\n1000,3\n4000,10\n");
    if ("message" in tapeLoss) throw new Error(tapeLoss.message);
    const result = compared({ tapeLoss });
    expect(result.tape_loss_db?.[0]).toBeNull();
    expect(result.whole_pass_db[0]).toBeNull();
    expect(result.tape_loss_db?.[hertz.indexOf(100)]).toBeCloseTo(-1, 9);
    const at = hertz.indexOf(4000);
    expect(result.whole_pass_db[at]).toBeCloseTo(result.sum_db[at]! - 7, 9);
  });

  it("counts the rise of a head's EMF when a path starts at a head", () => {
    const other = circuitOf(PLAIN);
    const same = [pathIn("playback", other), pathIn("playback", other)] as const;
    const { results } = compare(other, same, { reference: 1000 }, [500, 1000, 2000]);
    const [result] = results;
    // both paths start at the head: twice 6.02 dB an octave
    expect(result?.head_db.map((level) => Number(level.toFixed(3)))).toEqual([-12.041, 0, 12.041]);
    expect(result?.switched).toEqual([]);
    expect(result?.apart).toEqual([]);
  });

  it("leaves the operating point and the circuit as they were", () => {
    const before = JSON.stringify(circuit);
    expect(compared()).toEqual(compared());
    expect(JSON.stringify(circuit)).toBe(before);
  });
});
