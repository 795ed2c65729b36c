import { describe, expect, it } from "vitest";
import {
  Complex,
  formatNetlist,
  grade,
  libraryTypes,
  operatingPoint,
  readNetlist,
  readSetting,
  response,
  substitute,
  writeType,
} from "../src/index.ts";

const STAGE = `circuit "one stage"
use library
battery B1 9V plus chassis minus rail
resistor R1 47k chassis to T1.b
resistor R2 220k T1.b to rail
resistor R3 1k T1.e to chassis
resistor R4 4k7 T1.c to rail
transistor T1 GP
generator G1 1mV source 600 ohm in to chassis
electrolytic C1 10µ plus in minus T1.b
path amplifier from G1 to T1.c
`;

function stage() {
  const { circuit, diagnostics } = readNetlist(STAGE);
  if (circuit === undefined) throw new Error(diagnostics[0]?.message);
  return circuit;
}

describe("the library", () => {
  it("reads, solves and sweeps with nothing but the text of a netlist", () => {
    const circuit = stage();
    const [chart] = operatingPoint(circuit).results;
    expect(chart?.transistors.T1?.region).toBe("active");
    expect(chart?.nets.rail?.volts).toBeCloseTo(-9, 6);
    const [path] = response(circuit, { hertz: [1000] }).results;
    // gain of a degenerated stage about R4/R3, common practice, no source
    expect(path?.gain[0]?.abs()).toBeGreaterThan(3.5);
    expect(path?.gain[0]?.abs()).toBeLessThan(4.7);
  });

  it("gives complex gains that agree with decibels and degrees", () => {
    const [path] = response(stage()).results;
    expect(path?.gain).toHaveLength(path?.hertz.length ?? -1);
    path?.gain.forEach((gain, i) => {
      expect(gain).toBeInstanceOf(Complex);
      expect(20 * Math.log10(gain.abs())).toBeCloseTo(path.gain_db[i] ?? Number.NaN, 9);
      expect((gain.arg() * 180) / Math.PI).toBeCloseTo(path.phase_degrees[i] ?? Number.NaN, 9);
    });
  });

  it("sweeps from 20 Hz to 20 kHz, both included, where no frequencies are given", () => {
    const hertz = response(stage()).results[0]?.hertz ?? [];
    expect([hertz[0], hertz.at(-1)]).toEqual([20, 20_000]);
    expect(hertz).toContain(1000);
  });

  it("takes settings as the command line does", () => {
    const circuit = stage();
    const set = readSetting(circuit, "B1=6V");
    if ("message" in set) throw new Error(set.message);
    expect(operatingPoint(circuit, { set }).results[0]?.nets.rail?.volts).toBeCloseTo(-6, 6);
  });

  it("adds what a meter shows", () => {
    const [chart] = operatingPoint(stage(), {}, { ohmsPerVolt: 20_000 }).results;
    const base = chart?.nets["T1.b"];
    expect(Math.abs(base?.reading_volts ?? 9)).toBeLessThan(Math.abs(base?.volts ?? 0));
  });

  it("refuses modes, paths and frequencies that there are not", () => {
    const circuit = stage();
    expect(() => operatingPoint(circuit, { modes: ["as-drwan"] })).toThrow(
      new RangeError('the circuit has no mode "as-drwan"; did you mean "as-drawn"?'),
    );
    expect(() => response(circuit, { paths: ["nowhere"] })).toThrow(RangeError);
    for (const bad of [0, -1, Number.NaN, Infinity]) {
      expect(() => response(circuit, { hertz: [bad] })).toThrow(RangeError);
      expect(() => response(circuit, { from: bad })).toThrow(RangeError);
      expect(() => response(circuit, { pointsPerOctave: bad })).toThrow(RangeError);
    }
  });

  it("refuses settings of parts that there are not, and numbers that are none", () => {
    const circuit = stage();
    const set = (part: string, value: number) => () =>
      operatingPoint(circuit, { set: [{ part, key: "resistance", value }] });
    expect(set("R9", 1000)).toThrow(new RangeError('the circuit has no part "R9"'));
    expect(set("R1", Number.NaN)).toThrow(RangeError);
    expect(() => operatingPoint(circuit, { ambientCelsius: Number.NaN })).toThrow(RangeError);
    expect(() => operatingPoint(circuit, { ambientCelsius: -300 })).toThrow(RangeError);
    expect(() => operatingPoint(circuit, { ambientCelsius: -40 })).not.toThrow();
  });

  it("reports errors of a netlist as data and leaves the circuit out", () => {
    const { circuit, diagnostics } = readNetlist("resitor R1 1k a to chassis", { file: "f" });
    expect(circuit).toBeUndefined();
    expect(diagnostics[0]).toMatchObject({ severity: "error", file: "f", line: 1, column: 1 });
  });

  it("formats netlists", () => {
    expect(typeof formatNetlist(STAGE)).toBe("string");
  });

  it("fits other types, and refuses those of another polarity or unknown", () => {
    const [play] = substitute(stage(), "T1", ["OC71", "GP"]).results;
    expect(play?.candidates.map(({ type }) => type)).toEqual(["GP", "OC71"]);
    expect(() => substitute(stage(), "T1", ["AC127"])).toThrow(/AC127 is npn, but T1 is pnp/);
    expect(() => substitute(stage(), "T1", ["OC711"])).toThrow(/no type "OC711".*OC71/);
    expect(() => substitute(stage(), "T9", ["OC71"])).toThrow(RangeError);
  });

  it("grades a transistor and writes its type block", () => {
    const test = { supplyVolts: 9, collectorOhms: 2472, baseOhms: 2.2e6, celsius: 25 };
    const readings = { openAmps: 93e-6, fedAmps: 538e-6 };
    const type = libraryTypes().OC71!;
    const [one] = grade([{ sample: "S1", test, readings, type, marked: true }]).results;
    expect(one?.measured.hfe).toBeCloseTo(110, 0);
    expect(writeType(one!.type)).toMatch(/^type {2}S1 {2}pnp germanium\n/);
  });
});
