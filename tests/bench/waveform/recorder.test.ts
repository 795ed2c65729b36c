import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { oscillation } from "../../../src/bench/oscillation.ts";
import { response } from "../../../src/bench/response.ts";
import type { WaveformConditions } from "../../../src/bench/waveform/conditions.ts";
import { waveform } from "../../../src/bench/waveform.ts";
import { readNetlist } from "../../../src/index.ts";

const netlist = (name: string) =>
  readFileSync(new URL(`../../../netlists/${name}.netlist`, import.meta.url), "utf8");
const circuitOf = (text: string) => readNetlist(text).circuit!;
const RECORDER = circuitOf(netlist("recorder"));

const asked = (conditions: Partial<WaveformConditions> & { seconds: number }): WaveformConditions => ({
  every: conditions.seconds / 200,
  start: { from: "rest", displaced: [] },
  tones: [],
  events: [],
  shown: [],
  ...conditions,
});

const net = (name: string) => RECORDER.nets.findIndex((each) => each.name === name);
const shown = (name: string) => ({ kind: "net" as const, net: net(name), name });

describe("the demo recorder in time", () => {
  it("stays mute for the second or two that its supply filter is there to give", () => {
    const conditions = asked({ seconds: 3, modes: ["play"], shown: [shown("quiet")] });
    const [result] = waveform(RECORDER, conditions).results;
    const playback = result!.paths.find(({ path }) => path === "playback");
    expect(playback!.mute_seconds).toBeGreaterThan(1);
    expect(playback!.mute_seconds).toBeLessThan(2.5);
    expect(playback!.gain_db[0]).toBeLessThan(playback!.final_gain_db - 40);
  });

  it("starts its bias oscillator as fast as its natural frequency grows, within 1 %", () => {
    const start = { from: "point" as const, displaced: [{ net: net("erase"), volts: 1e-3 }] };
    const [result] = waveform(
      RECORDER,
      asked({ seconds: 0.6e-3, modes: ["record"], shown: [shown("erase")], start }),
    ).results;
    const [growing] = oscillation(RECORDER, { modes: ["record"] }).results[0]!.growing;
    const { growth_per_second, hertz } = result!.readings.erase!.build_up!;
    expect(growth_per_second / growing!.growth_per_second).toBeGreaterThan(0.99);
    expect(growth_per_second / growing!.growth_per_second).toBeLessThan(1.01);
    expect(hertz / growing!.hertz).toBeCloseTo(1, 3);
  });
});

describe("a small tone", () => {
  it.each([100, 1000, 10_000])("gives the gain of the small-signal response to 0.01 dB at %s Hz", (hertz) => {
    const circuit = circuitOf(netlist("common-emitter"));
    const path = circuit.paths[0]!;
    const out = "net" in path.to ? path.to.net : 0;
    const tones = [{ part: path.from, hertz, volts: 1e-4 }];
    const seconds = Math.max(20, Math.ceil(hertz * 0.1)) / hertz;
    const { results } = waveform(
      circuit,
      asked({
        seconds,
        tones,
        start: { from: "point", displaced: [] },
        shown: [{ kind: "net", net: out, name: "out" }],
        ...(path.mode !== undefined && { modes: [path.mode] }),
      }),
    );
    const gain = 20 * Math.log10(results[0]!.readings.out!.periodic!.harmonics[0]! / Math.SQRT2 / 1e-4);
    const expected = response(circuit, {}, [hertz]).results[0]!.gain_db[0]!;
    expect(Math.abs(gain - expected)).toBeLessThan(0.01);
  });

  it.each([1000, 8000])("does so through the whole recorder in play, at %s Hz", (hertz) => {
    const path = RECORDER.paths.find(({ name }) => name === "preamplifier")!;
    const out = "net" in path.to ? path.to.net : 0;
    const conditions = asked({
      // what the beginning of the tone leaves in the coupling capacitors dies away before the readings
      seconds: 0.1,
      modes: ["play"],
      tones: [{ part: path.from, hertz, volts: 1e-5 }],
      start: { from: "point", displaced: [] },
      shown: [{ kind: "net", net: out, name: "out" }],
    });
    const { periodic } = waveform(RECORDER, conditions).results[0]!.readings.out!;
    const gain = 20 * Math.log10(periodic!.harmonics[0]! / Math.SQRT2 / 1e-5);
    const chart = response(RECORDER, { modes: ["play"], paths: ["preamplifier"] }, [hertz]).results[0]!;
    expect(Math.abs(gain - chart.gain_db[0]!)).toBeLessThan(0.01);
  });
});
