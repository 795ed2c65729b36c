import { describe, expect, it } from "vitest";
import { oscillation } from "../../src/bench/oscillation.ts";
import { circuitOf } from "../outside/bench.ts";

/** Three stages fed from one battery, with nothing between them but its own capacitor. */
const stage = (n: number, load: string, emitter: string, divider: readonly [string, string]) => `
resistor R${n}1 ${divider[0]} rail to T${n}.b
resistor R${n}2 ${divider[1]} T${n}.b to chassis
transistor T${n} PN
resistor R${n}3 ${load} rail to T${n}.c
resistor R${n}4 ${emitter} T${n}.e to chassis
electrolytic C${n}2 100µ plus chassis minus T${n}.e
`;

const THREE = circuitOf(`
type PN pnp germanium
    hfe 50 at 1 mA
    vbe 120 mV at 1 mA
    leakage 4 µA at 25 °C
battery B1 9 V internal 2 ohm plus chassis minus rail
electrolytic C1 100µ plus chassis minus rail
electrolytic C11 10µ plus chassis minus T1.b
${stage(1, "4k7", "1k", ["100k", "22k"])}
electrolytic C21 10µ plus T2.b minus T1.c
${stage(2, "4k7", "1k", ["100k", "22k"])}
electrolytic C31 10µ plus T3.b minus T2.c
${stage(3, "470R", "220R", ["22k", "4k7"])}
`);

const growing = (set: readonly { part: string; key: string; value: number }[]) =>
  oscillation(THREE, { set, natural: true }).results[0]!.natural.filter(
    ({ growth_per_second: growth }) => growth > 0,
  ).length;

const internal = (value: number) => [{ part: "B1", key: "internal", value }];

describe("stages that share a battery", () => {
  const chart = oscillation(THREE, { margins: true }).results[0]!;

  it("hold with a fresh battery", () => {
    expect(chart.growing).toEqual([]);
  });

  it("grow just above the greatest resistance found for the battery and not just below", () => {
    const [{ limit = 0, hertz = 0 } = {}] = chart.margins!.batteries;
    expect(limit).toBeGreaterThan(2);
    expect(growing(internal(0.95 * limit))).toBe(0);
    expect(growing(internal(1.05 * limit))).toBe(1);
    expect(hertz).toBeGreaterThan(1);
    expect(hertz).toBeLessThan(1000);
  });

  it("are said to motorboat, by the parts that do it, when the battery is flat", () => {
    const [{ limit = 0 } = {}] = chart.margins!.batteries;
    const flat = oscillation(THREE, { set: internal(1.3 * limit) }).results[0]!.growing;
    expect(flat.map(({ kind }) => kind)).toEqual(["motorboating"]);
    expect(flat[0]!.parts.some((part) => part.startsWith("T"))).toBe(true);
  });

  it("keep a capacitor's limit between holding and growing, where there is one", () => {
    for (const { part, limit, tried } of chart.margins!.capacitors) {
      const set = (value: number) => [{ part, key: "capacitance", value }];
      if (limit === undefined) expect(growing(set(tried))).toBe(0);
      else {
        expect(growing(set(1.05 * limit))).toBe(0);
        expect(growing(set(0.95 * limit))).toBeGreaterThan(0);
      }
    }
    expect(chart.margins!.capacitors.map(({ part }) => part)).toContain("C1");
  });
});

/** The last stage draws so much from so weary a battery that the whole motorboats. */
const WEARY = circuitOf(`
use library
battery B1 9 V internal 200 ohm plus chassis minus rail
electrolytic C1 10µ plus chassis minus rail
generator G1 1 mV source 10k in to chassis
electrolytic C2 10µ plus in minus T1.b
resistor R1 100k rail to T1.b
resistor R2 22k T1.b to chassis
resistor R3 4k7 rail to T1.c
resistor R4 1k T1.e to chassis
electrolytic C3 100µ plus chassis minus T1.e
transistor T1 LN
electrolytic C4 10µ plus T2.b minus T1.c
resistor R5 47k rail to T2.b
resistor R6 10k T2.b to chassis
resistor R7 2k2 rail to T2.c
resistor R8 470R T2.e to chassis
electrolytic C5 100µ plus chassis minus T2.e
transistor T2 GP
electrolytic C6 10µ plus T3.b minus T2.c
resistor R9 10k rail to T3.b
resistor R10 2k2 T3.b to chassis
resistor R11 220R rail to T3.c
resistor R12 100R T3.e to chassis
electrolytic C7 220µ plus chassis minus T3.e
transistor T3 DR
`);

describe("an amplifier that motorboats already", () => {
  const { growing: found, margins } = oscillation(WEARY, { margins: true }).results[0]!;

  it("has something else that grows beyond a margin, which is told", () => {
    expect(found.map(({ kind }) => kind)).toEqual(["motorboating"]);
    const beyond = margins!.capacitors.flatMap(({ hertz }) => hertz ?? []);
    expect(beyond.some((hertz) => hertz > 1000)).toBe(true);
    for (const hertz of beyond) expect(Math.abs(hertz / found[0]!.hertz - 1)).toBeGreaterThan(0.2);
  });
});

describe("a natural frequency", () => {
  const RING = circuitOf(`
battery B1 1 V plus a minus chassis
resistor R1 100R a to b
inductor L1 10mH dcr 5 ohm b to c
capacitor C1 10n c to chassis
`);
  const [mode] = oscillation(RING, { natural: true }).results[0]!.natural;
  const omega = 1 / Math.sqrt(10e-3 * 10e-9);

  it("has the frequency, growth and Q of a series circuit", () => {
    const growth = -105 / (2 * 10e-3);
    expect(mode!.growth_per_second).toBeCloseTo(growth, 6);
    expect(mode!.hertz).toBeCloseTo(Math.sqrt(omega ** 2 - growth ** 2) / (2 * Math.PI), 6);
    expect(mode!.q).toBeCloseTo(omega / (2 * -growth), 9);
  });

  it("names coil and capacitor as equals, and what each does to it", () => {
    const parts = Object.fromEntries(mode!.parts.map((each) => [each.part, each]));
    expect(parts.C1!.participation).toBeGreaterThan(0.99);
    expect(parts.L1!.participation).toBeGreaterThan(0.99);
    expect(parts.C1!.hertz_per_percent! / mode!.hertz).toBeCloseTo(-0.005, 4);
    // dα/dR = −1/2L
    expect(parts.R1!.growth_per_percent).toBeCloseTo(-1 / (2 * 10e-3), 2);
  });
});
