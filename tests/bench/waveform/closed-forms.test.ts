import { describe, expect, it } from "vitest";
import { waveformOf, worst } from "./run.ts";

const TOLERANCES = [1e-3, 1e-4, 1e-5, 1e-6];

describe("steps against closed forms", () => {
  it.each(TOLERANCES)("charges a capacitor through a resistor, 1 − e^(−t/RC), to within %s", (tolerance) => {
    const text =
      "battery B1 10 V plus a minus chassis\nresistor R1 10k a to out\ncapacitor C1 100n out to chassis\n";
    const { seconds, nets } = waveformOf(text, { seconds: 5e-3, tolerance });
    const form = (t: number) => 10 * (1 - Math.exp(-t / 1e-3));
    expect(worst(seconds, nets.out!, form)).toBeLessThan(10 * tolerance);
  });

  it.each(TOLERANCES)("lets a current into a coil, 1 − e^(−tR/L), to within %s", (tolerance) => {
    const text =
      "battery B1 10 V plus a minus chassis\nresistor R1 100R a to out\ninductor L1 50mH out to chassis\n";
    const { seconds, nets } = waveformOf(text, { seconds: 2.5e-3, tolerance });
    expect(worst(seconds, nets.out!, (t) => 10 * Math.exp((-t * 100) / 50e-3))).toBeLessThan(10 * tolerance);
  });

  it.each(TOLERANCES)("rings a series circuit of R, L and C to within %s", (tolerance) => {
    const text =
      "battery B1 10 V plus a minus chassis\nresistor R1 100R a to b\ninductor L1 10mH b to out\ncapacitor C1 100n out to chassis\n";
    const { seconds, nets } = waveformOf(text, { seconds: 1e-3, tolerance });
    const alpha = 100 / (2 * 10e-3);
    const omega = Math.sqrt(1 / (10e-3 * 100e-9) - alpha ** 2);
    const form = (t: number) =>
      10 * (1 - Math.exp(-alpha * t) * (Math.cos(omega * t) + (alpha / omega) * Math.sin(omega * t)));
    // it swings to 17 V
    expect(worst(seconds, nets.out!, form)).toBeLessThan(17 * tolerance);
  });

  it.each(TOLERANCES)("feeds a load through coupled windings to within %s", (tolerance) => {
    // 1:1, k = 0.8, L = 10 mH, R1 = R2 = 100 Ω: the modes of i1 + i2 and i1 − i2 have L·(1 ± k)/R
    const text = [
      "battery B1 10 V plus a minus chassis",
      "resistor R1 100R a to b",
      "transformer TR1 magnetising 10mH on first coupling 0.8",
      "    winding first 100 turns b to chassis",
      "    winding second 100 turns out to chassis",
      "resistor R2 100R out to chassis",
      "",
    ].join("\n");
    const { seconds, nets } = waveformOf(text, { seconds: 1e-3, tolerance });
    const [slow, fast] = [(10e-3 * 1.8) / 100, (10e-3 * 0.2) / 100];
    const form = (t: number) => 5 * (Math.exp(-t / slow) - Math.exp(-t / fast));
    expect(worst(seconds, nets.out!, form)).toBeLessThan(10 * tolerance);
  });

  it("keeps what a displaced net was given, and lets it run down", () => {
    const text = "resistor R1 1k out to chassis\ncapacitor C1 1µ out to chassis\n";
    const displaced = [{ net: 1, volts: 5 }];
    const { seconds, nets } = waveformOf(text, { seconds: 3e-3, start: { from: "point", displaced } });
    expect(worst(seconds, nets.out!, (t) => 5 * Math.exp(-t / 1e-3))).toBeLessThan(5e-5);
  });
});

describe("a rectifier", () => {
  it("follows the sine less the drop of the diode while it conducts, and the load alone while it does not", () => {
    // without storage the diode's law itself is the closed form: i = Is·(e^(v/nVt) − 1)
    const text = [
      "generator G1 1 V in to chassis",
      "diode D1 DD anode in cathode out",
      "resistor R1 10k out to chassis",
      "type DD diode silicon",
      "    vf 600 mV at 1 mA",
      "",
    ].join("\n");
    const tones = [{ part: "G1", hertz: 50, volts: 5 }];
    const { seconds, nets } = waveformOf(text, {
      seconds: 40e-3,
      tones,
      start: { from: "point", displaced: [] },
    });
    const vt = (1.380649e-23 / 1.602176634e-19) * 298.15;
    const saturation = 1e-3 / (Math.exp(0.6 / vt) - 1);
    // the drop v that the current through load and diode agree on, by bisection
    const drop = (volts: number) => {
      let [low, high] = [-20, 1];
      for (let halving = 0; halving < 60; halving++) {
        const v = (low + high) / 2;
        if (saturation * (Math.exp(v / vt) - 1) > (volts - v) / 10e3) high = v;
        else low = v;
      }
      return low;
    };
    const input = (t: number) => 5 * Math.SQRT2 * Math.sin(2 * Math.PI * 50 * t);
    expect(worst(seconds, nets.in!, input)).toBeLessThan(7e-4);
    expect(worst(seconds, nets.out!, (t) => input(t) - drop(input(t)))).toBeLessThan(7e-4);
  });
});

describe("an oscillator without loss", () => {
  it("keeps its amplitude to 1e-4 over 1000 periods at the usual tolerance", () => {
    const text = "inductor L1 10mH out to chassis\ncapacitor C1 100n out to chassis\n";
    const period = 2 * Math.PI * Math.sqrt(10e-3 * 100e-9);
    const start = { from: "point" as const, displaced: [{ net: 1, volts: 1 }] };
    const { readings } = waveformOf(text, { seconds: 1000 * period, every: period, start });
    expect(readings.out!.periodic!.hertz * period).toBeCloseTo(1, 4);
    expect(Math.abs(readings.out!.periodic!.harmonics[0]! - 1)).toBeLessThan(1e-4);
  });
});
