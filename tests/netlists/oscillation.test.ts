import { describe, expect, it } from "vitest";
import type { Growing, OscillationChart, Steady } from "../../src/bench/oscillation/results.ts";
import { oscillation, oscillationFrequency } from "../../src/bench/oscillation.ts";
import { waveform } from "../../src/bench/waveform.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { demo } from "./demo.ts";

const recorder = demo("recorder");
const regulator = demo("motor-regulator");

type Set = readonly { readonly part: string; readonly key: string; readonly value: number }[];

function chartOf(circuit: Circuit, mode: string, set: Set = [], natural = true): OscillationChart {
  const { results, failures } = oscillation(circuit, { modes: [mode], set, natural });
  expect(failures).toEqual([]);
  return results[0]!;
}

/** Whether anything swings ever further. */
const swingsUp = (circuit: Circuit, mode: string, set: Set = []): boolean =>
  chartOf(circuit, mode, set).natural.some(
    ({ hertz, growth_per_second }) => hertz > 0 && growth_per_second > 1,
  );

const steadyOf = ({ steady }: Growing): Steady => {
  if (steady === undefined || "reason" in steady) throw new Error(steady?.reason ?? "no steady swing");
  return steady;
};

describe("the bias oscillator of the demonstration recorder", () => {
  const { growing, natural } = chartOf(recorder, "record", [], false);
  const [bias] = growing as [Growing];

  it("is the only thing that grows in record, and nothing grows in play", () => {
    expect(growing).toHaveLength(1);
    expect(bias.kind).toBe("oscillation");
    expect(swingsUp(recorder, "play")).toBe(false);
  });

  it("hangs on the tank's capacitor, the erase head and T6", () => {
    expect(bias.parts.slice(0, 2)).toEqual(["C21", "K2"]);
    expect(bias.parts).toContain("T6");
    expect(natural[0]!.hertz).toBe(bias.hertz);
  });

  it("falls by half a per cent in frequency for a per cent more of everything in the tank", () => {
    const shift = natural[0]!.parts
      .filter(({ part }) => ["C21", "K2", "TR3"].includes(part))
      .reduce((sum, { hertz_per_percent = 0 }) => sum + hertz_per_percent, 0);
    // f ~ 1/√(LC): both 1 % up is 1 % down
    expect(shift / bias.hertz).toBeCloseTo(-0.01, 3);
  });

  it("starts just above the least hfe found and not just below", () => {
    const { part, least_hfe: least = 0 } = bias.start.transistor!;
    expect(part).toBe("T6");
    expect(swingsUp(recorder, "record", [{ part, key: "hfe", value: 1.03 * least }])).toBe(true);
    expect(swingsUp(recorder, "record", [{ part, key: "hfe", value: 0.97 * least }])).toBe(false);
  });

  it("starts just above the lowest battery voltage found and not just below", () => {
    const [{ value: least = 0 } = {}] = bias.start.batteries;
    expect(swingsUp(recorder, "record", [{ part: "B1", key: "emf", value: 1.03 * least }])).toBe(true);
    expect(swingsUp(recorder, "record", [{ part: "B1", key: "emf", value: 0.97 * least }])).toBe(false);
  });

  it("starts with a little less added resistance than found and not with a little more", () => {
    const { part, value: most = 0 } = bias.start.in_series!;
    const dcr = recorder.parts.find(({ name }) => name === part)!.values.dcr!;
    const added = (ohms: number) => [{ part, key: "dcr", value: dcr + ohms }];
    expect(swingsUp(recorder, "record", added(0.97 * most))).toBe(true);
    expect(swingsUp(recorder, "record", added(1.03 * most))).toBe(false);
  });

  it("settles within the supply, near its small-signal frequency, with tens of milliamperes in the erase head", () => {
    const steady = steadyOf(bias);
    expect(steady.harmonics).toBe(15);
    expect(steady.hertz / bias.hertz).toBeCloseTo(1, 1);
    const { "T6.c": collector } = steady.nets;
    // a saturating collector swings the supply less the drop at the emitter
    expect(collector!.volts_peak).toBeGreaterThan(4);
    expect(collector!.volts_peak).toBeLessThan(9);
    expect(steady.heads.K2!.amps_rms).toBeGreaterThan(20e-3);
    expect(steady.heads.K2!.amps_rms).toBeLessThan(0.2);
    expect(oscillationFrequency(recorder, "record")).toBeCloseTo(steady.hertz, 6);
  });

  it("settles in time at the same amplitude, to 0.5 %, and frequency, to 0.05 %", () => {
    const erase = recorder.nets.findIndex(({ name }) => name === "erase");
    const { results } = waveform(recorder, {
      modes: ["record"],
      seconds: 2e-3,
      every: 1e-5,
      start: { from: "point", displaced: [{ net: erase, volts: 0.1 }] },
      tones: [],
      events: [],
      shown: [{ kind: "net", net: erase, name: "erase" }],
    });
    const { hertz, harmonics } = results[0]!.readings.erase!.periodic!;
    const steady = steadyOf(bias);
    expect(Math.abs(harmonics[0]! / steady.nets.erase!.volts_peak - 1)).toBeLessThan(0.005);
    expect(Math.abs(hertz / steady.hertz - 1)).toBeLessThan(5e-4);
  });

  it("meets a trap that is tuned to it: a per cent either way lets more through", () => {
    const [trap] = bias.traps;
    expect(trap).toMatchObject({ coil: "L2", capacitor: "C25", from: "head_feed", to: "trap" });
    expect(trap!.attenuation_db).toBeGreaterThan(trap!.attenuation_db_one_percent_more);
    expect(trap!.attenuation_db).toBeGreaterThan(trap!.attenuation_db_one_percent_less);
    const { volts_peak: near } = steadyOf(bias).nets.head_feed!;
    expect(20 * Math.log10(near / trap!.residual_volts_peak!)).toBeCloseTo(trap!.attenuation_db, 1);
  });
});

describe("the oscillator of the demonstration motor regulator", () => {
  it("starts with the contact open and not with it closed", () => {
    expect(swingsUp(regulator, "fast")).toBe(true);
    expect(swingsUp(regulator, "slow")).toBe(false);
  });

  it("makes the detector about -2.3 V, as a meter on the bench shows", () => {
    const { growing } = chartOf(regulator, "fast", [], false);
    const { nets, harmonics } = steadyOf(growing[0]!);
    expect(harmonics).toBe(15);
    expect(nets.detected!.mean_volts).toBeGreaterThan(-2.6);
    expect(nets.detected!.mean_volts).toBeLessThan(-2);
  });
});

describe("oscillationFrequency", () => {
  it("is nothing where nothing swings", () => {
    expect(oscillationFrequency(recorder, "play")).toBeUndefined();
  });
});
