import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { voltages } from "../../../src/bench/voltages.ts";
import type { WaveformConditions } from "../../../src/bench/waveform/conditions.ts";
import { waveform } from "../../../src/bench/waveform.ts";
import { readNetlist } from "../../../src/index.ts";
import { waveformOf, worst } from "./run.ts";

const circuitOf = (name: string) =>
  readNetlist(readFileSync(new URL(`../../../netlists/${name}.netlist`, import.meta.url), "utf8")).circuit!;

/** One net of a demonstration circuit in time, displaced or not. */
function run(
  name: string,
  mode: string,
  net: string,
  conditions: Partial<WaveformConditions> & { seconds: number },
) {
  const circuit = circuitOf(name);
  const index = circuit.nets.findIndex((each) => each.name === net);
  const { results, failures } = waveform(circuit, {
    every: conditions.seconds / 200,
    start: { from: "point", displaced: [] },
    tones: [],
    events: [],
    modes: [mode],
    shown: [{ kind: "net", net: index, name: net }],
    ...conditions,
  });
  expect(failures).toEqual([]);
  return { reading: results[0]!.readings[net]!, values: results[0]!.nets[net]! };
}

const displaced = (name: string, net: string, volts: number) => ({
  start: {
    from: "point" as const,
    displaced: [{ net: circuitOf(name).nets.findIndex((each) => each.name === net), volts }],
  },
});

describe("a start from a displaced net", () => {
  it("lets the bias oscillator go on from half a volt", () => {
    const { values } = run("recorder", "record", "erase", {
      seconds: 0.1e-3,
      ...displaced("recorder", "erase", 0.5),
    });
    expect(values[0]).toBeCloseTo(0.5, 2);
    expect(Math.max(...values)).toBeGreaterThan(0.5);
  });

  it("finds the state in which a collector is 9 V from where it would be, and its junction far in forward bias", () => {
    const { values } = run("motor-regulator", "fast", "T1.c", {
      seconds: 0.1e-3,
      ...displaced("motor-regulator", "T1.c", 1e-3),
    });
    // a few picofarads of the junction beside 4.7 nF
    expect(values[0]).toBeCloseTo(0, 2);
    expect(Math.min(...values)).toBeLessThan(-9);
  });
});

/** At first the discharged capacitor puts the whole battery on two bases the wrong way round. */
const TURNED = `circuit "turned about"
use library
battery B1 9 V plus chassis minus rail
resistor R1 1k24 a to rail
resistor R2 34k b to rail
resistor R3 2k3 c to chassis
resistor R4 5k71 d to chassis
resistor R5 1k2 rail to c
capacitor C1 211n rail to c
transistor T1 OC71 e c b a c d
transistor T2 OC44 e chassis b b c c
`;

describe("a start from rest at which transistors work backwards", () => {
  it("is found, and leads to the operating point", () => {
    const { circuit } = readNetlist(TURNED);
    const { nets } = waveformOf(TURNED, { seconds: 20e-3 });
    const settled = voltages(circuit!, { isothermal: true }).results[0]!.nets.c!.volts;
    // less what the junctions take of it at once: 0.1 nC from 0.2 µF
    expect(nets.c![0]).toBeCloseTo(-9, 2);
    expect(nets.c!.at(-1)).toBeCloseTo(settled, 3);
  });
});

describe("an oscillator at exact equilibrium", () => {
  it("is seen to build up in a run whose steps could be longer than its period", () => {
    const { reading } = run("recorder", "record", "erase", { seconds: 4e-3 });
    expect(reading.build_up!.hertz).toBeCloseTo(52.1e3, -3);
    expect(reading.periodic!.peak).toBeGreaterThan(8);
  });
});

const COIL = `battery B1 10 V internal 1 ohm plus a minus chassis
switch S1 on off
    pole p a  on coil off open
resistor R1 1M open to chassis
inductor L1 100mH dcr 99 ohm coil to chassis
`;
const opening = {
  seconds: 2e-3,
  tolerance: 1e-5,
  start: { from: "point" as const, displaced: [] },
  events: [{ seconds: 1e-3, what: "S1=off", states: [{ part: "S1", key: "position", value: "off" }] }],
};

describe("the current of a coil whose switch opens", () => {
  it("goes on through the resistor across it: 0.1 A in 10 kΩ are −1000 V, dying with L/(R + dcr)", () => {
    const { seconds, nets } = waveformOf(`${COIL}resistor R2 10k coil to chassis\nmode run S1 on\n`, opening);
    const amps = 10 / (1 + (99 * 10e3) / 10_099);
    const current = amps * (10e3 / 10_099);
    const after = seconds.map((t, k) => [t, nets.coil![k]!] as const).filter(([t]) => t > 1e-3);
    const form = (t: number) => -current * 10e3 * Math.exp((-(t - 1e-3) * 10_099) / 100e-3);
    const [times, values] = [after.map(([t]) => t), after.map(([, v]) => v)];
    expect(worst(times, values, form)).toBeLessThan(1000 * 1e-4);
  });

  it("ends at once, as in a spark, where there is nowhere to go", () => {
    const { seconds, nets } = waveformOf(`${COIL}mode run S1 on\n`, opening);
    for (const [k, t] of seconds.entries()) if (t > 1e-3) expect(Math.abs(nets.coil![k]!)).toBeLessThan(1e-6);
  });
});

describe("a circuit that truly has no solution", () => {
  it.each([0, 1e-3])("is said to have none at its time, %s s", (when) => {
    const text = `battery B1 6 V plus a minus chassis
battery B2 5 V plus b minus chassis
switch S1 on off contact 0 ohm
    pole p a  off open on b
resistor R1 1k open to chassis
mode run S1 off
`;
    const { failures } = waveform(readNetlist(text).circuit!, {
      seconds: 2e-3,
      every: 1e-4,
      start: { from: "rest", displaced: [] },
      tones: [],
      shown: [],
      events: [{ seconds: when, what: "S1=on", states: [{ part: "S1", key: "position", value: "on" }] }],
    });
    expect(failures).toMatchObject([
      {
        message: `mode run: the circuit has no solution at t = ${when === 0 ? "0" : "0.001 s"}, after S1=on`,
        part: "S1",
        hint: expect.stringMatching(/without resistance across each other/),
      },
    ]);
  });
});

describe("a tight tolerance", () => {
  it.each([1e-5, 1e-6, 1e-7])("of %s is met at switch-on of the recorder", (tolerance) => {
    const { values } = run("recorder", "record", "rail", {
      seconds: 20e-6,
      tolerance,
      start: { from: "rest", displaced: [] },
    });
    expect(values.at(-1)).toBeLessThan(0);
  });
});
