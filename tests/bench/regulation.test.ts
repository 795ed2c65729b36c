import { describe, expect, it } from "vitest";
import type { RegulationCurve } from "../../src/bench/regulation/results.ts";
import { type RegulationConditions, regulation } from "../../src/bench/regulation.ts";
import { RPM } from "../../src/parts/motor.ts";
import { circuitOf } from "../language/reading.ts";

// K = 0.02 N·m/A; drag and load take 50 mA
const TEXT = `battery B1 7 V plus feed minus chassis
governor GV1 of M1 opens 2400 rpm closes 2380 rpm feed to rail
resistor R1 47R feed to rail
motor M1 18 ohm emf ${1e3 * 0.02 * RPM} mV/rpm inertia 40 gcm2 drag 0.4 mNm load 0.6 mNm plus rail minus chassis
`;
const circuit = circuitOf(TEXT);
const K = 0.02;
const CONTACT = (0.02 * 47) / 47.02;

function curves(conditions: Partial<RegulationConditions> = {}): readonly RegulationCurve[] {
  const steps = regulation(circuit, { points: 3, batteries: {}, ...conditions });
  let next = steps.next();
  while (next.done !== true) next = steps.next();
  expect(next.value.failures).toEqual([]);
  return next.value.results;
}

/** Speed that the motor would come to, rpm, with so many ohms in series. */
const settles = (volts: number, series: number, amps = 0.05) => (volts - amps * (18 + series)) / K / RPM;

describe("regulation", () => {
  it("goes over battery and load, each from end to end", () => {
    const [battery, load] = curves({ load: { from: 0, to: 2e-3 } });
    expect(battery).toMatchObject({
      mode: "as-drawn",
      motor: "M1",
      governor: "GV1",
      against: "B1",
      unit: "volt",
    });
    expect(battery?.points.map(({ value }) => value)).toEqual([3.5, 5.25, 7]);
    expect(load).toMatchObject({ against: "load of M1", unit: "newton-metre" });
    expect(load?.points.map(({ value }) => value)).toEqual([0, 1e-3, 2e-3]);
  });

  it("shows the speed at which torque balances where the motor is too slow for its governor", () => {
    const [battery] = curves();
    expect(battery?.points[0]?.held).toBe("too slow");
    expect(battery!.points[0]!.rpm / settles(3.5, CONTACT)).toBeCloseTo(1, 9);
  });

  it("says where the motor stalls", () => {
    const [, load] = curves({ load: { from: 5e-3, to: 10e-3 } });
    // 7 V over 18 Ω make 7.8 mN·m
    expect(load?.points.map(({ held }) => held)).toEqual(["too slow", "stalled", "stalled"]);
    expect(load?.points[1]?.rpm).toBe(0);
  });

  it("averages whole periods: the speed between exponentials, and the share of the time", () => {
    const [battery] = curves();
    const point = battery!.points[2]!;
    expect(point.held).toBe("regulated");
    const inertia = 4e-6;
    const leg = (series: number, from: number, to: number) => {
      const end = settles(7, series);
      const constant = (inertia * (18 + series)) / (K * K);
      const seconds = constant * Math.log((end - from) / (end - to));
      return { seconds, area: end * seconds + (from - end) * constant * (1 - Math.exp(-seconds / constant)) };
    };
    const up = leg(CONTACT, 2380, 2400);
    const down = leg(47, 2400, 2380);
    const period = up.seconds + down.seconds;
    expect(point.rpm / ((up.area + down.area) / period)).toBeCloseTo(1, 4);
    expect(point.worked_share! / (down.seconds / period)).toBeCloseTo(1, 2);
    expect(point.periods_per_second! * period).toBeCloseTo(1, 2);
    expect(point.least_rpm).toBeCloseTo(2380, 2);
    expect(point.greatest_rpm).toBeCloseTo(2400, 2);
  });

  it("finds the battery and the load at which the motor just comes to the governor's speed", () => {
    const [battery, load] = curves();
    expect(battery?.limit).toBeCloseTo(2400 * RPM * K + 0.05 * (18 + CONTACT), 8);
    const amps = (7 - 2400 * RPM * K) / (18 + CONTACT);
    expect(load?.limit).toBeCloseTo(K * amps - 0.4e-3, 10);
  });

  it("says that the motor runs away where it stays fast with the contact open", () => {
    const [battery] = curves({ batteries: { B1: { from: 7, to: 10 } } });
    const last = battery!.points.at(-1)!;
    expect(last.held).toBe("runs away");
    expect(last.rpm).toBeGreaterThan(2400);
    expect(battery?.limit).toBeUndefined();
  });

  it("has nothing to say of a mode that holds the governor", () => {
    expect(curves({ set: [{ part: "GV1", key: "state", value: "open" }] })).toEqual([]);
  });

  it("ends with what there is when asked to", () => {
    const steps = regulation(circuit, { points: 3, batteries: { B1: { from: 7, to: 7.1 } } });
    expect(steps.next().done).toBe(false);
    const { value } = steps.next(true);
    expect(value).toMatchObject({ results: [{ against: "B1", points: [] }], failures: [] });
  });
});
