import { describe, expect, it } from "vitest";
import type { RegulationPoint } from "../../src/bench/regulation/results.ts";
import { type RegulationConditions, regulation } from "../../src/bench/regulation.ts";
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
    const points = charted({ batteries: { B1: { from: 6.75, to: 9 } }, load: { from: 0.5e-3, to: 1e-3 } });
    expect(points.map(({ held }) => held)).toEqual(Array(4).fill("regulated"));
    const speeds = points.map(({ rpm }) => rpm);
    expect(Math.max(...speeds) / Math.min(...speeds)).toBeLessThan(1.005);
    for (const { least_rpm: least = 0, greatest_rpm: greatest = 0 } of points) {
      expect(least).toBeGreaterThan(0.99 * 2395);
      expect(greatest).toBeLessThan(1.01 * 2395);
    }
    const [tired, fresh, easy, hard] = points.map(burst);
    expect(tired).toBeLessThan(0.95 * fresh!);
    expect(hard).toBeLessThan(0.7 * easy!);
    expect(hard).toBeGreaterThan(1e-3);
  }, 120_000);

  it("has no bursts when overloaded: the motor stays too slow to open the contact", () => {
    const mode = modesOf(regulator).find(({ name }) => name === "run");
    const standing = withPartStates(regulator, [...(mode?.states ?? []), ...load(6)]);
    const found = network(standing, { ambientCelsius: 25, isothermal: false });
    const run = new TimeRun(found, restingState(found), { tolerance: 1e-4, longest: 0.01, drive() {} });
    expect(run.turn([])).toBe(true);
    while (run.seconds < 1) if (!run.step(1)) throw new Error(`stuck at ${run.seconds} s`);
    expect(run.happenings).toEqual([]);
    const rpm = (run.state[found.unknowns.speed.get("M1") ?? -1] ?? 0) / RPM;
    expect(rpm / (chart(regulator, "run", { set: load(6) }).motors?.M1?.rpm ?? 0)).toBeCloseTo(1, 3);
    expect(rpm).toBeLessThan(2390);
  });
});

/** All points of the regulation chart, two of each curve. */
function charted(ranges: Pick<RegulationConditions, "batteries" | "load">): readonly RegulationPoint[] {
  const steps = regulation(regulator, { modes: ["run"], points: 2, ...ranges });
  let next = steps.next();
  while (next.done !== true) next = steps.next();
  return next.value.results.flatMap(({ points }) => points);
}

/** How long the oscillator swings at a time, s. */
const burst = ({ worked_share: share = 0, periods_per_second: rate = 1 }: RegulationPoint): number =>
  share / rate;
