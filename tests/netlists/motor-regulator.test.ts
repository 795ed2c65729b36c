import { describe, expect, it } from "vitest";
import type { Circuit, PartState } from "../../src/circuit/circuit.ts";
import { modesOf, withPartStates } from "../../src/circuit/conditions.ts";
import { network, restingState } from "../../src/engine/network.ts";
import { TimeRun } from "../../src/engine/time/run.ts";
import { RPM } from "../../src/parts/motor.ts";
import { chart, demo } from "./demo.ts";
import { growing, naturalFrequencies } from "./natural.ts";

const regulator = demo("motor-regulator");

const CONDITIONS = [
  [9, 25],
  [6.75, 25],
  [4.5, -20],
  [9, 60],
] as const;

const battery = (volts: number) => [{ part: "B1", key: "emf", value: volts }];
const load = (milliNewtonMetres: number) => [{ part: "M1", key: "load", value: 1e-3 * milliNewtonMetres }];

describe("the demonstration motor regulator", () => {
  it.each(CONDITIONS)(
    "oscillates near 39 kHz while the contact is open, at %d V and %d °C",
    (volts, celsius) => {
      const found = growing(naturalFrequencies(regulator, "fast", battery(volts), celsius));
      expect(found).toHaveLength(1);
      expect(found[0]?.hertz).toBeGreaterThan(37e3);
      expect(found[0]?.hertz).toBeLessThan(43e3);
    },
  );

  it.each(CONDITIONS)("falls silent when the contact closes, at %d V and %d °C", (volts, celsius) => {
    expect(growing(naturalFrequencies(regulator, "slow", battery(volts), celsius))).toEqual([]);
  });

  it("gives the motor nearly the whole battery without oscillation, cold and worn out included", () => {
    for (const [volts, ambientCelsius] of CONDITIONS) {
      const { transistors } = chart(regulator, "slow", { ambientCelsius, set: battery(volts) });
      expect(Math.abs(transistors.T3?.vce_volts ?? 9)).toBeLessThan(0.1);
    }
  });

  it("runs away when the oscillator does not start: the contact is open and the speed high", () => {
    const { motors, governors } = chart(regulator, "run");
    expect(governors?.GV1).toEqual({ motor: "M1", state: "open" });
    expect(motors?.M1?.rpm).toBeGreaterThan(5000);
  });

  it("takes the motor's current away by the voltage that the detector makes, at any temperature", () => {
    const detected = regulator.parts.find(({ name }) => name === "D1")?.pins[0]?.net ?? 0;
    const oscillating = {
      ...regulator,
      parts: [
        ...regulator.parts,
        {
          name: "B9",
          kind: "battery",
          pins: [
            { name: "plus", net: 0 },
            { name: "minus", net: detected },
          ],
          values: { emf: 2.3, internal: 100 },
          choices: {},
          place: { file: "", line: 1, column: 1 },
        },
      ],
    };
    for (const ambientCelsius of [-20, 25, 45, 60]) {
      const { T3 } = chart(oscillating, "slow", { ambientCelsius }).transistors;
      expect(Math.abs(T3?.ic_amps ?? 1)).toBeLessThan(0.02);
    }
  });

  it("holds the speed from the full battery to 75 % of it and over a doubling of the load, with shorter bursts", () => {
    const easy = regulated(regulator, []);
    const hard = regulated(regulator, [...battery(6.75), ...load(1)]);
    for (const { least, greatest } of [easy, hard]) {
      expect(least).toBeGreaterThan(0.99 * 2395);
      expect(greatest).toBeLessThan(1.01 * 2395);
    }
    expect(hard.burst).toBeLessThan(0.7 * easy.burst);
    expect(hard.burst).toBeGreaterThan(1e-3);
  });

  it("has no bursts when overloaded: the motor stays too slow to open the contact", () => {
    const { openings, last } = regulated(regulator, load(6));
    expect(openings).toBe(0);
    expect(last).toBeGreaterThan(1800);
    expect(last).toBeLessThan(2390);
  });
});

/**
 * From rest until the contact has opened twice or half a second has passed: extreme speeds after the first
 * opening, rpm, and how long the contact stayed open, s.
 */
function regulated(circuit: Circuit, set: readonly PartState[]) {
  const run = runOf(circuit, set);
  const opened: number[] = [];
  const closed: number[] = [];
  const speeds: number[] = [];
  let last = 0;
  while (run.seconds < 0.5 && opened.length < 2) {
    if (!run.step(0.5)) throw new Error(`stuck at ${run.seconds} s`);
    for (const { what, seconds } of run.happenings.splice(0)) {
      (what === "GV1 opens" ? opened : closed).push(seconds);
    }
    last = (run.state[run.network.unknowns.speed.get("M1") ?? 0] ?? 0) / RPM;
    if (opened.length > 0) speeds.push(last);
  }
  return {
    openings: opened.length,
    last,
    least: Math.min(...speeds),
    greatest: Math.max(...speeds),
    burst: (closed[0] ?? 0) - (opened[0] ?? 0),
  };
}

function runOf(circuit: Circuit, set: readonly PartState[]): TimeRun {
  const mode = modesOf(circuit).find(({ name }) => name === "run");
  const standing = withPartStates(circuit, [...(mode?.states ?? []), ...set]);
  const found = network(standing, { ambientCelsius: 25, isothermal: false });
  const run = new TimeRun(found, restingState(found), { tolerance: 1e-3, longest: 0.01, drive() {} });
  if (!run.turn([])) throw new Error("no beginning");
  return run;
}
