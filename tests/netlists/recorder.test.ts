import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { compare } from "../../src/bench/compare.ts";
import { playback } from "../../src/bench/playback.ts";
import type { PartState } from "../../src/circuit/circuit.ts";
import { PORTABLE } from "../../src/tape/fields.ts";
import { readLossCurve } from "../../src/tape/loss-curve.ts";
import { preferredBetween } from "../../src/tape/preferred.ts";
import { findStandard } from "../../src/tape/standards.ts";
import { chart, demo, gains, traced, withHfe } from "./demo.ts";
import { growing, naturalFrequencies } from "./natural.ts";

const recorder = demo("recorder");

/**
 * Voltage response of an amplifier behind an ideal head, dB re 1 kHz, for 3180 and 120 µs at 9.53 cm/s.
 * Source: DIN 1962 as tabulated in IASA-TC 04, 5.4.10; the decibels follow from the formula
 * A = √(1 + (ωτ2)²)/√(1 + (ωτ1)²).
 */
const TARGET: readonly (readonly [hertz: number, decibels: number])[] = [
  [63, 19.95],
  [125, 15.51],
  [250, 10.08],
  [500, 4.61],
  [1000, 0],
  [2000, -2.82],
  [4000, -3.94],
  [8000, -4.28],
  [10000, -4.32],
];

const hertz = TARGET.map(([f]) => f);
const reference = TARGET.findIndex(([f]) => f === 1000);

function deviations(path: string): readonly (readonly [number, number])[] {
  const gain = gains(recorder, path, hertz);
  return TARGET.map(([f, wanted], k) => [f, (gain[k] ?? 0) - (gain[reference] ?? 0) - wanted] as const);
}

describe("the demonstration recorder in play", () => {
  it.each(["preamplifier", "playback"])(
    "equalises %s to 3180 and 120 µs within 1.5 dB from 100 Hz to 8 kHz",
    (path) => {
      for (const [f, deviation] of deviations(path).filter(([f]) => f >= 100 && f <= 8000)) {
        expect(Math.abs(deviation), `${f} Hz: ${deviation.toFixed(2)} dB`).toBeLessThan(1.5);
      }
    },
  );

  it.each(["preamplifier", "playback"])("keeps %s in a field of 3 dB at 63 Hz and 10 kHz", (path) => {
    for (const [f, deviation] of deviations(path)) {
      expect(Math.abs(deviation), `${f} Hz: ${deviation.toFixed(2)} dB`).toBeLessThan(3);
    }
  });

  it("shows a capacitor of the wrong value in the feedback at once", () => {
    const set = [{ part: "C11", key: "capacitance", value: 47e-9 }];
    const [at1k = 0, at8k = 0] = gains(recorder, "preamplifier", [1000, 8000], { set });
    expect(Math.abs(at8k - at1k - -4.28)).toBeGreaterThan(3);
  });

  it("makes some tenths of a volt at the loudspeaker of half a millivolt from the head", () => {
    const [decibels = 0] = gains(recorder, "playback", [1000]);
    const volts = 0.5e-3 * 10 ** (decibels / 20);
    expect(volts).toBeGreaterThan(0.1);
    expect(volts).toBeLessThan(0.5);
  });

  it("stays silent with the volume control shut", () => {
    const set = [{ part: "P1", key: "setting", value: 0 }];
    const [open = 0] = gains(recorder, "playback", [1000]);
    const [shut = 0] = gains(recorder, "playback", [1000], { set });
    expect(open - shut).toBeGreaterThan(50);
  });

  it("holds the three direct-coupled transistors against the spread of their current gain", () => {
    const typical = chart(recorder, "play").transistors;
    for (const [t2, t3, t4] of [
      [0.55, 0.57, 0.57],
      [1.75, 1.7, 1.7],
      [0.55, 1.7, 0.57],
      [1.75, 0.57, 1.7],
    ] as const) {
      const sample = chart(withHfe(recorder, { T2: t2, T3: t3, T4: t4 }), "play").transistors;
      for (const name of ["T3", "T4"] as const) {
        const change = (sample[name]?.ic_amps ?? 0) / (typical[name]?.ic_amps ?? 1);
        expect(change, `${name} with T2 ×${t2}, T3 ×${t3}, T4 ×${t4}`).toBeGreaterThan(0.85);
        expect(change).toBeLessThan(1.15);
      }
      expect(sample.T2?.region).toBe("active");
      expect(sample.T3?.region).toBe("active");
    }
  });

  it("keeps the quiescent current of the output pair between a half and twice its value from −20 to 60 °C", () => {
    const typical = chart(recorder, "play").transistors.T6?.ic_amps ?? 0;
    expect(Math.abs(typical)).toBeGreaterThan(4e-3);
    expect(Math.abs(typical)).toBeLessThan(8e-3);
    for (const ambientCelsius of [-20, 0, 45, 60]) {
      const ratio = (chart(recorder, "play", { ambientCelsius }).transistors.T6?.ic_amps ?? 0) / typical;
      expect(ratio).toBeGreaterThan(0.5);
      expect(ratio).toBeLessThan(2);
    }
  });

  it("sleeps in the driver while the filtered supply is still down", () => {
    const set = [{ part: "R2", key: "resistance", value: 3300 }]; // C2 a quarter of the way up
    const awake = chart(recorder, "play").transistors.T5?.ic_amps ?? 0;
    const asleep = chart(recorder, "play", { set }).transistors.T5?.ic_amps ?? 1;
    expect(Math.abs(asleep)).toBeLessThan(0.05 * Math.abs(awake));
    const [loud = 0] = gains(recorder, "playback", [1000]);
    const [mute = 0] = gains(recorder, "playback", [1000], { set });
    expect(loud - mute).toBeGreaterThan(40);
  });
});

describe("the demonstration recorder in record", () => {
  it("raises the treble of the head's current by 5 to 10 dB around 9 kHz and the bass a little", () => {
    const [at80 = 0, at1k = 0, at8k = 0, at9k = 0, at10k = 0] = gains(
      recorder,
      "recording",
      [80, 1000, 8000, 9000, 10000],
    );
    for (const treble of [at8k, at9k, at10k]) {
      expect(treble - at1k).toBeGreaterThan(5);
      expect(treble - at1k).toBeLessThan(10);
    }
    expect(at80 - at1k).toBeGreaterThan(1);
    expect(at80 - at1k).toBeLessThan(4);
  });

  it("drives the head with a current that its inductance hardly changes", () => {
    const flat = [
      { part: "R22", key: "resistance", value: 1e6 }, // no boost
      { part: "C12", key: "capacitance", value: 1e-3 },
    ];
    const [at1k = 0, at8k = 0] = gains(recorder, "recording", [1000, 8000], { set: flat });
    expect(Math.abs(at8k - at1k)).toBeLessThan(1);
  });

  it("gives the head some tens of microamperes of a millivolt from the microphone", () => {
    const set = [{ part: "P3", key: "setting", value: 1 }];
    const [decibels = 0] = gains(recorder, "recording", [1000], { set });
    const amps = 1e-3 * 10 ** (decibels / 20);
    expect(amps).toBeGreaterThan(30e-6);
    expect(amps).toBeLessThan(120e-6);
  });

  it("makes T6 an oscillator's and T7 a follower's operating point", () => {
    const { transistors } = chart(recorder, "record");
    expect(transistors.T6?.region).toBe("active");
    expect(Math.abs(transistors.T6?.ic_amps ?? 0)).toBeGreaterThan(5e-3);
    expect(transistors.T7?.region).toBe("active");
    expect(transistors.T7?.c_volts).toBeCloseTo(chart(recorder, "record").nets.rail?.volts ?? 0, 2);
    expect(transistors.T5?.region).toBe("cut off");
  });
});

describe("natural frequencies of the demonstration recorder", () => {
  const battery = (volts: number) => [{ part: "B1", key: "emf", value: volts }];

  it.each([
    [9, 25],
    [4.5, 25],
    [4.5, -20],
    [9, 60],
  ])(
    "has one that grows in record, the bias oscillator's between 45 and 60 kHz, at %d V and %d °C",
    (volts, celsius) => {
      const found = growing(naturalFrequencies(recorder, "record", battery(volts), celsius));
      expect(found).toHaveLength(1);
      expect(found[0]?.hertz).toBeGreaterThan(45e3);
      expect(found[0]?.hertz).toBeLessThan(60e3);
    },
  );

  it.each([
    [9, 25],
    [4.5, 25],
    [4.5, -20],
    [9, 60],
  ])("has none that grows in play at %d V and %d °C", (volts, celsius) => {
    expect(growing(naturalFrequencies(recorder, "play", battery(volts), celsius))).toEqual([]);
  });

  it("has none that grows in play with twice the feedback round the output transformer", () => {
    const set = [{ part: "R35", key: "resistance", value: 410 }];
    expect(growing(naturalFrequencies(recorder, "play", set))).toEqual([]);
  });

  it("does not motorboat on a nearly flat battery of 50 Ω", () => {
    const set = [{ part: "B1", key: "internal", value: 50 }];
    expect(growing(naturalFrequencies(recorder, "play", set))).toEqual([]);
  });

  it("needs the erase head to oscillate where it should", () => {
    const set = [{ part: "K2", key: "inductance", value: 1 }]; // as good as unplugged
    for (const { hertz: f } of growing(naturalFrequencies(recorder, "record", set))) {
      expect(f).toBeLessThan(45e3);
    }
  });

  it("tunes the trap to the oscillator within one per cent", () => {
    const [oscillator] = growing(naturalFrequencies(recorder, "record"));
    const trap = recorder.parts.find(({ name }) => name === "L2")?.values ?? {};
    const farads = recorder.parts.find(({ name }) => name === "C25")?.values.capacitance ?? 0;
    const { setting = 0, "setting.from": from = 0, "setting.to": to = 0 } = trap;
    const resonance = 1 / (2 * Math.PI * Math.sqrt((from + setting * (to - from)) * farads));
    expect(Math.abs(resonance / (oscillator?.hertz ?? 1) - 1)).toBeLessThan(0.01);
  });
});

describe("the first stage of the demonstration recorder", () => {
  it("takes next to nothing of the treble with the head's inductance", () => {
    const [with40 = 0] = gains(recorder, "preamplifier", [8000]);
    const set = [{ part: "K1", key: "inductance", value: 1e-6 }];
    const [without = 0] = gains(recorder, "preamplifier", [8000], { set });
    expect(Math.abs(with40 - without)).toBeLessThan(1);
  });

  it("follows through to the loudspeaker from the head and from nothing else", () => {
    const path = traced(recorder, "playback", [1000]);
    expect(path.from).toBe("K1");
    expect(path.mode).toBe("play");
    expect(path.quantity).toBe("voltage");
  });
});

describe("the demonstration recorder and its tape", () => {
  /** Playback of a tape of DIN 1962 at 9.53 cm/s; field of a portable of the 1960s: common practice, no source. */
  function played(path: string, set: readonly PartState[] = []) {
    const standard = findStandard("DIN 1962", 0.0953)!;
    const conditions = { standard, speed: 0.0953, reference: 1000, field: PORTABLE, paths: [path], set };
    return playback(recorder, conditions, preferredBetween(20, 20_000)).results[0]!.tape;
  }

  it.each(["preamplifier", "playback"])(
    "plays a tape of its standard within 3 dB from 80 Hz to 10 kHz: %s",
    (path) => {
      expect(played(path)).toMatchObject({ within: true });
    },
  );

  it.each([
    ["C11", 47e-9],
    ["C11", 220e-9],
    ["C11", 10e-9],
  ])("falls out of that field with a wrong capacitor in its feedback: %s of %d F", (part, value) => {
    for (const path of ["preamplifier", "playback"]) {
      const tape = played(path, [{ part, key: "capacitance", value }]);
      expect(tape.within).toBe(false);
      expect(tape.margin_db).toBeLessThan(-0.5);
    }
  });

  it.each(["preamplifier", "playback"])(
    "gives back within 3 dB from 80 Hz to 10 kHz what it recorded, on a tape that loses what tape-loss.csv says: %s",
    (path) => {
      const tapeLoss = readLossCurve(
        readFileSync(new URL("../../netlists/tape-loss.csv", import.meta.url), "utf8"),
      );
      if ("message" in tapeLoss) throw new Error(tapeLoss.message);
      const pathIn = (name: string, mode: string) => ({
        path: recorder.paths.find((each) => each.name === name)!,
        mode,
      });
      const pair = [pathIn(path, "play"), pathIn("recording", "record")] as const;
      const { results } = compare(
        recorder,
        pair,
        { reference: 1000, tapeLoss },
        preferredBetween(80, 10_000),
      );
      for (const level of results[0]!.whole_pass_db) expect(Math.abs(level!)).toBeLessThan(3);
    },
  );

  it("has C11 and R19 switched in for playback, and C12, R20 to R22, L1 and C13 for recording", () => {
    const pathIn = (name: string, mode: string) => ({
      path: recorder.paths.find((each) => each.name === name)!,
      mode,
    });
    const pair = [pathIn("preamplifier", "play"), pathIn("recording", "record")] as const;
    const { switched } = compare(recorder, pair, { reference: 1000 }, preferredBetween(20, 20_000))
      .results[0]!;
    const shaping = switched.filter(({ effects }) =>
      effects.some(({ shape_db }) => Math.abs(shape_db ?? 0) > 3),
    );
    const named = (mode: string) => shaping.filter((each) => each.mode === mode).map(({ part }) => part);
    expect(named("play")).toEqual(["C11", "R19"]);
    expect(named("record")).toEqual(["C12", "R20", "R21", "L1", "C13", "R22", "L2"]);
  });
});
