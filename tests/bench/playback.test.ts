import { describe, expect, it } from "vitest";
import { type PlaybackConditions, playback } from "../../src/bench/playback.ts";
import { PORTABLE } from "../../src/tape/fields.ts";
import { headDecibels } from "../../src/tape/head-losses.ts";
import { preferredBetween } from "../../src/tape/preferred.ts";
import { readTimeConstants } from "../../src/tape/standards.ts";
import { circuitOf, IDEAL, PLAIN, RESONANT } from "./tape-circuits.ts";

const hertz = preferredBetween(20, 20_000);
const conditions = (more: Partial<PlaybackConditions> = {}): PlaybackConditions => ({
  standard: { name: "3180/120", ...readTimeConstants("3180/120")! },
  reference: 1000,
  field: PORTABLE,
  ...more,
});

function played(text: string, more: Partial<PlaybackConditions> = {}) {
  const { results, failures } = playback(circuitOf(text), conditions(more), hertz);
  expect(failures).toEqual([]);
  return results[0]!;
}

describe("playback as the tape sees it", () => {
  it("is flat through a network that has just the two time constants", () => {
    const { tape } = played(PLAIN);
    for (const off of tape.deviation_db) expect(Math.abs(off)).toBeLessThan(1e-4);
    expect(tape).toMatchObject({ within: true, metres_per_second: null, low_seconds: 3180e-6 });
    expect(tape.margin_db).toBeCloseTo(3, 3);
  });

  it("departs from flat by the difference of two standards on a tape of another", () => {
    // a tape of 3180/120 on a machine of 3180/90 and the other way round: computed from the formula
    const { tape } = played(PLAIN, { standard: { name: "3180/90", ...readTimeConstants("3180/90")! } });
    const at = (f: number) => tape.deviation_db[hertz.indexOf(f)]!;
    expect(at(4000)).toBeCloseTo(1.43, 2);
    expect(at(16000)).toBeCloseTo(1.73, 2);
    expect(at(31.5)).toBeCloseTo(-0.75, 2);
  });

  it("loses what gap, spacing and coating lose at the speed of the tape, and nothing without a speed", () => {
    const { tape, from } = played(IDEAL, { speed: 0.0953 });
    const lost = (f: number) => headDecibels({ gap: 3e-6, spacing: 0.5e-6, coating: 12e-6 }, f, 0.0953);
    expect(from).toBe("K1");
    hertz.forEach((f, i) => {
      expect(tape.head_db[i]).toBeCloseTo(lost(f), 9);
      expect(tape.deviation_db[i]).toBeCloseTo(lost(f) - lost(1000), 3);
    });
    expect(played(IDEAL).tape.head_db.every((level) => level === 0)).toBe(true);
  });

  it("takes the lengths of the head as they are set", () => {
    const set = [{ part: "K1", key: "gap", value: 5e-6 }];
    const at = hertz.indexOf(10000);
    expect(played(PLAIN, { speed: 0.0953, set }).tape.head_db[at]).toBeCloseTo(-4.37, 2);
  });

  it("has the resonance of the head's inductance with the capacitance across it", () => {
    const { tape, gain_db } = played(RESONANT);
    const gain = (f: number) => {
      const w = 2 * Math.PI * f;
      // 1 / (1 + Z·Y) with Z = 100 Ω + jωL, Y = 1/47 kΩ + jωC
      const re = 1 + 100 / 47e3 - w * w * 0.1 * 1e-9;
      const im = w * (0.1 / 47e3 + 100 * 1e-9);
      return -20 * Math.log10(Math.hypot(re, im));
    };
    hertz.forEach((f, i) => {
      expect(gain_db[i]).toBeCloseTo(gain(f), 6);
    });
    const above = tape.deviation_db[hertz.indexOf(16000)]! - tape.deviation_db[hertz.indexOf(5000)]!;
    const shelf = (f: number) =>
      10 * Math.log10(1 + (2 * Math.PI * f * 120e-6) ** 2) -
      10 * Math.log10(1 + (2 * Math.PI * f * 3180e-6) ** -2);
    const wanted = gain(16000) - gain(5000) + 20 * Math.log10(3.2) - shelf(16000) + shelf(5000);
    expect(above).toBeCloseTo(wanted, 6);
  });

  it("refers to the frequency asked for, whether it is looked at or not", () => {
    const at333 = played(PLAIN, { reference: 333 }).tape;
    expect(at333.reference_hertz).toBe(333);
    expect(at333.deviation_db.length).toBe(hertz.length);
    const shifted = played(RESONANT, { reference: 10000 }).tape;
    expect(shifted.deviation_db[hertz.indexOf(10000)]).toBeCloseTo(0, 9);
  });

  it("has target and deviation that make up the gain", () => {
    const { gain_db, tape } = played(RESONANT);
    gain_db.forEach((gain, i) => {
      expect(tape.target_db[i]! + tape.deviation_db[i]!).toBeCloseTo(gain, 9);
    });
  });

  it("says so when nothing arrives", () => {
    const dead = PLAIN.replace(
      "to out\n",
      "to far\nresistor R6 1k far to chassis\nresistor R7 1k out to chassis\n",
    );
    const { results, failures } = playback(circuitOf(dead), conditions(), hertz);
    expect(results).toEqual([]);
    expect(failures[0]?.message).toContain("nothing of K1 arrives");
  });

  it("leaves out paths that start elsewhere", () => {
    const both = `${PLAIN}generator G1 1V source 1k g to chassis\npath other from G1 to g\n`;
    const { results } = playback(circuitOf(both), conditions(), hertz);
    expect(results.map(({ path }) => path)).toEqual(["playback"]);
  });
});
