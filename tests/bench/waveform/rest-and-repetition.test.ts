import { describe, expect, it } from "vitest";
import { waveformOf } from "./run.ts";

const FLIP = `circuit "two lamps that wink"
use library
battery B1 6 V plus chassis minus rail
transistor T1 AC128 e chassis b b1 c c1
transistor T2 AC128 e chassis b b2 c c2
resistor R1 470R c1 to rail
resistor R2 470R c2 to rail
resistor R3 10k b1 to rail
resistor R4 10k b2 to rail
electrolytic C1 10µ plus b2 minus c1
electrolytic C2 10µ plus b1 minus c2
`;

const CHARGING = `circuit "a capacitor that charges slowly"
battery B1 10 V plus chassis minus rail
generator G1 1 mV source 100 ohm in to rail
resistor R1 1k in to out
electrolytic C1 100µ plus chassis minus out
`;

const winking = (seconds: number) =>
  waveformOf(FLIP, { seconds, start: { from: "point", displaced: [{ net: 2, volts: -1 }] } }).readings.c1!;

describe("What moves until the run ends", () => {
  it("has not settled where it stood as long before and left again", () => {
    for (const seconds of [0.3, 0.5]) expect(winking(seconds).settled_seconds).toBeUndefined();
  });

  it("repeats itself where turns are alike", () => {
    // each half lasts while its capacitor turns from −6 V to 0 through 10 kΩ: about 0.69·R·C (common practice, no source)
    expect(winking(0.7).periodic!.hertz).toBeCloseTo(1 / (2 * 0.69 * 10e3 * 10e-6), 0);
  });

  it("does not repeat itself while it travels on by more than a tenth of its swing a period", () => {
    const tones = [{ part: "G1", hertz: 50, volts: 1 }];
    const start = { from: "rest" as const, displaced: [] };
    const early = waveformOf(CHARGING, { seconds: 0.1, start, tones }).readings.out!;
    expect(early.periodic).toBeUndefined();
    const late = waveformOf(CHARGING, { seconds: 2, start, tones }).readings.out!;
    // 1 V over 1.1 kΩ beside 31.8 Ω of the capacitor at 50 Hz
    expect(late.periodic!.rms).toBeCloseTo(1 / Math.hypot(1, 2 * Math.PI * 50 * 1.1e3 * 100e-6), 4);
  });
});
