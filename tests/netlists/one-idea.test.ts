import { describe, expect, it } from "vitest";
import { oscillation } from "../../src/bench/oscillation.ts";
import { chart, demo, gains, traced, withHfe } from "./demo.ts";

const one = (values: readonly number[]) => values[0] ?? Number.NaN;

const at1k = (name: string, path: string, conditions: Parameters<typeof gains>[3] = {}) =>
  one(gains(demo(name), path, [1000], conditions));

const ohms = (part: string, value: number) => ({ part, key: "resistance", value });

describe("common-emitter.netlist", () => {
  const stage = demo("common-emitter");

  it("has the gain R_load/r_e bypassed and R_load/(R_E + r_e) not, common practice, no source", () => {
    const { ic_amps: ic = 0 } = chart(stage, "bypassed").transistors.T1 ?? {};
    const re = 0.0257 / Math.abs(ic);
    const load = 1 / (1 / 3300 + 1 / 10000);
    const bypassed = 10 ** (at1k("common-emitter", "stage", { modes: ["bypassed"] }) / 20);
    const degenerated = 10 ** (at1k("common-emitter", "stage", { modes: ["degenerated"] }) / 20);
    // the source resistance takes its share: most of bypassed, less than a tenth of degenerated
    expect(bypassed).toBeGreaterThan(0.6 * (load / re));
    expect(bypassed).toBeLessThan(load / re);
    expect(degenerated).toBeGreaterThan(0.9 * (load / (1500 + re)));
    expect(degenerated).toBeLessThan(load / (1500 + re));
  });

  it("has the same voltages in both positions of the switch", () => {
    const [a, b] = ["bypassed", "degenerated"].map((mode) => chart(stage, mode).transistors.T1);
    expect(b?.c_volts).toBeCloseTo(a?.c_volts ?? Number.NaN, 6);
  });
});

describe("emitter-follower.netlist", () => {
  it("brings more than 20 dB more of a weak source to a heavy load", () => {
    const gained = at1k("emitter-follower", "follower") - at1k("emitter-follower", "straight");
    expect(gained).toBeGreaterThan(20);
  });

  it("inverts nothing and never gains", () => {
    const path = traced(demo("emitter-follower"), "follower", [1000]);
    expect(Math.abs(one(path.phase_degrees))).toBeLessThan(5);
    expect(one(path.gain_db)).toBeLessThan(0);
  });
});

describe("direct-coupled-pair.netlist", () => {
  const pair = demo("direct-coupled-pair");

  it("has nearly the gain 1 + R7/R4", () => {
    const ideal = 20 * Math.log10(1 + 3300 / 100);
    expect(at1k("direct-coupled-pair", "pair")).toBeLessThan(ideal);
    expect(at1k("direct-coupled-pair", "pair")).toBeGreaterThan(ideal - 2);
  });

  it("keeps gain and operating point with transistors of half and twice the current gain", () => {
    const typical = chart(pair, "as-drawn").transistors.T2?.ic_amps ?? 0;
    for (const factor of [0.55, 1.7]) {
      const sample = withHfe(pair, { T1: factor, T2: factor });
      const ratio = (chart(sample, "as-drawn").transistors.T2?.ic_amps ?? 0) / typical;
      expect(ratio).toBeGreaterThan(0.85);
      expect(ratio).toBeLessThan(1.15);
      expect(Math.abs(one(gains(sample, "pair", [1000])) - at1k("direct-coupled-pair", "pair"))).toBeLessThan(
        1,
      );
    }
  });

  it("gains more than 20 dB when the feedback is taken away", () => {
    const open = at1k("direct-coupled-pair", "pair", { set: [ohms("R7", 10e6)] });
    expect(open - at1k("direct-coupled-pair", "pair")).toBeGreaterThan(20);
  });
});

describe("phase-splitter-transformer.netlist", () => {
  it("gives two equal voltages 180° apart", () => {
    const splitter = demo("phase-splitter-transformer");
    const upper = traced(splitter, "upper", [100, 1000, 10000]);
    const lower = traced(splitter, "lower", [100, 1000, 10000]);
    upper.hertz.forEach((_, k) => {
      expect(lower.real[k]).toBeCloseTo(-(upper.real[k] ?? Number.NaN), 6);
      expect(lower.imag[k]).toBeCloseTo(-(upper.imag[k] ?? Number.NaN), 6);
    });
  });

  it("loses bass with less primary inductance", () => {
    const splitter = demo("phase-splitter-transformer");
    const set = [{ part: "TR1", key: "magnetising", value: 1 }];
    const fall = one(gains(splitter, "upper", [100])) - one(gains(splitter, "upper", [100], { set }));
    expect(fall).toBeGreaterThan(6);
  });
});

describe("treble-boost.netlist", () => {
  const boost = (mode: string, hertz: number) => {
    const [at = 0, low = 0] = gains(demo("treble-boost"), "amplifier", [hertz, 1000], { modes: [mode] });
    return at - low;
  };

  it("is flat within half a decibel from 100 Hz to 20 kHz with the circuit out", () => {
    for (const f of [100, 5000, 10000, 20000]) expect(Math.abs(boost("flat", f))).toBeLessThan(0.5);
  });

  it("rises by 8 to 12 dB at 10 kHz with it in, and is back at 50 kHz", () => {
    expect(boost("raised", 10000)).toBeGreaterThan(8);
    expect(boost("raised", 10000)).toBeLessThan(12);
    expect(boost("raised", 50000)).toBeLessThan(1);
  });
});

describe("twin-t.netlist", () => {
  it("has its notch at 1/(2πRC)", () => {
    const notch = 1 / (2 * Math.PI * 1800 * 10e-9);
    const [below = 0, at = 0, above = 0] = gains(demo("twin-t"), "filter", [
      notch * 0.99,
      notch,
      notch * 1.01,
    ]);
    expect(at).toBeLessThan(below - 10);
    expect(at).toBeLessThan(above - 10);
    expect(at).toBeLessThan(-60);
  });

  it("loses the depth when the trimmer is off balance", () => {
    const set = [{ part: "P1", key: "setting", value: 0.95 }];
    expect(one(gains(demo("twin-t"), "filter", [8842], { set }))).toBeGreaterThan(-45);
  });

  it("passes the middle of the band", () => {
    expect(at1k("twin-t", "filter")).toBeGreaterThan(-3);
  });
});

describe("bias-oscillator.netlist", () => {
  const standing = (set: { part: string; key: string; value: number }[] = []) =>
    oscillation(demo("bias-oscillator"), { set }).results[0]!;

  it("starts at the resonance of C3 with the erase head and what the windings have of their own, Thomson 1853", () => {
    const henries = 1 / (1 / 350e-6 + 1 / 700e-6);
    const [growing] = standing().growing;
    expect(growing!.hertz * 2 * Math.PI * Math.sqrt(henries * 39e-9)).toBeGreaterThan(0.95);
    expect(growing!.hertz * 2 * Math.PI * Math.sqrt(henries * 39e-9)).toBeLessThan(1.05);
  });

  it("follows its capacitor: four times C3 is half the frequency, within 5 %", () => {
    const slow = standing([{ part: "C3", key: "capacitance", value: 4 * 39e-9 }]).growing[0]!.hertz;
    expect(slow / standing().growing[0]!.hertz).toBeGreaterThan(0.475);
    expect(slow / standing().growing[0]!.hertz).toBeLessThan(0.525);
  });

  it("does not start any more when T1 hardly amplifies", () => {
    expect(standing([{ part: "T1", key: "hfe", value: 2 }]).growing).toEqual([]);
  });
});

describe("bias-trap.netlist", () => {
  const trap = demo("bias-trap");

  it("leaves least of the bias on the amplifier's side at 52 kHz", () => {
    const [below = 0, at = 0, above = 0] = gains(trap, "bias_leak", [49e3, 52e3, 55e3]);
    expect(at).toBeLessThan(below - 3);
    expect(at).toBeLessThan(above - 3);
  });

  it("leaks three times as much when the core is far out", () => {
    const set = [{ part: "L1", key: "setting", value: 0.2 }];
    const tuned = one(gains(trap, "bias_leak", [52e3]));
    expect(one(gains(trap, "bias_leak", [52e3], { set })) - tuned).toBeGreaterThan(9);
  });

  it("lets the signal pass to the head within 1.5 dB up to 16 kHz", () => {
    const [at1k = 0, at16k = 0] = gains(trap, "recording", [1000, 16000]);
    expect(Math.abs(at16k - at1k)).toBeLessThan(1.5);
  });
});

describe("thermistor-bias.netlist", () => {
  const pair = demo("thermistor-bias");
  const current = (mode: string, ambientCelsius: number) =>
    Math.abs(chart(pair, mode, { ambientCelsius }).transistors.T1?.ic_amps ?? Number.NaN);

  it("sets about the same current in both positions at 25 °C", () => {
    expect(current("resistor", 25) / current("compensated", 25)).toBeGreaterThan(0.8);
    expect(current("resistor", 25) / current("compensated", 25)).toBeLessThan(1.25);
  });

  it("holds it within a factor of two from 0 to 60 °C with diode and thermistor", () => {
    for (const celsius of [0, 45, 60]) {
      const ratio = current("compensated", celsius) / current("compensated", 25);
      expect(ratio).toBeGreaterThan(0.5);
      expect(ratio).toBeLessThan(2);
    }
  });

  it("starves the pair at 0 °C and floods it at 45 °C with the resistor", () => {
    expect(current("resistor", 0)).toBeLessThan(0.4 * current("resistor", 25));
    expect(current("resistor", 45)).toBeGreaterThan(2.5 * current("resistor", 25));
  });

  it("runs away at 60 °C with the resistor, and says which transistor", () => {
    expect(() => current("resistor", 60)).toThrow(/thermal runaway of T[12]/);
  });
});
