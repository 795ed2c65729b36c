import { describe, expect, it } from "vitest";
import { network, restingState } from "../../../src/engine/network.ts";
import { Collocation, copyPoint, timePoint } from "../../../src/engine/time/collocation.ts";
import { TimeSystem } from "../../../src/engine/time/time-system.ts";
import { readNetlist } from "../../../src/index.ts";

const systemOf = (text: string): TimeSystem => {
  const { circuit } = readNetlist(text);
  const built = network(circuit!, { ambientCelsius: 25, isothermal: true });
  return new TimeSystem(built, restingState(built));
};

/** Error at the end of so many equal steps over a time, against a closed form of the first net. */
function errorOf(system: TimeSystem, start: number, seconds: number, steps: number, exact: number): number {
  const state = restingState(system.network);
  state[0] = start;
  const formula = new Collocation(system, state, () => {});
  const now = timePoint(system, state);
  formula.evaluate(now);
  for (let k = 0; k < steps; k++) {
    expect(formula.step(now, seconds / steps)).toBe(true);
    copyPoint(formula.end, now);
  }
  return Math.abs(now.state[0]! - exact);
}

const DISCHARGE = "capacitor C1 1µ out to chassis\nresistor R1 1k out to chassis\n";
const TANK = "capacitor C1 100n out to chassis\ninductor L1 10mH out to chassis\n";

describe("the formula of three points", () => {
  it("is of fourth order: halving the step divides the error by 16", () => {
    const system = systemOf(DISCHARGE);
    const errors = [4, 8, 16, 32].map((steps) => errorOf(system, 1, 2e-3, steps, Math.exp(-2)));
    for (let k = 1; k < errors.length; k++) {
      expect(Math.log2(errors[k - 1]! / errors[k]!)).toBeGreaterThan(3.8);
      expect(Math.log2(errors[k - 1]! / errors[k]!)).toBeLessThan(4.2);
    }
  });

  it("is of fourth order for a diode as well, whose current is an exponential", () => {
    // C·dv/dt = −Is·(e^(v/Vt) − 1): e^(−v/Vt) − 1 grows as e^(t·Is/(C·Vt))
    const system = systemOf(
      "capacitor C1 1µ out to chassis\ndiode D1 DD anode out cathode chassis\ntype DD diode silicon\n    vf 600 mV at 1 mA\n",
    );
    const vt = (1.380649e-23 / 1.602176634e-19) * 298.15;
    const saturation = 1e-3 / (Math.exp(0.6 / vt) - 1);
    const seconds = 60e-6;
    const form = (1 - Math.exp(-0.6 / vt)) * Math.exp((-seconds * saturation) / (1e-6 * vt));
    const exact = -vt * Math.log(1 - form);
    const errors = [1, 2, 4].map((steps) => errorOf(system, 0.6, seconds, steps, exact));
    for (let k = 1; k < errors.length; k++) expect(Math.log2(errors[k - 1]! / errors[k]!)).toBeGreaterThan(3);
  });

  it("neither damps nor feeds an oscillation, however long the step", () => {
    const system = systemOf(TANK);
    const period = 2 * Math.PI * Math.sqrt(10e-3 * 100e-9);
    for (const perPeriod of [3, 7, 20]) {
      const state = restingState(system.network);
      state[0] = 1;
      const formula = new Collocation(system, state, () => {});
      const now = timePoint(system, state);
      formula.evaluate(now);
      for (let k = 0; k < 50 * perPeriod; k++) {
        formula.step(now, period / perPeriod);
        copyPoint(formula.end, now);
      }
      const energy = 100e-9 * now.state[0]! ** 2 + 10e-3 * now.state[1]! ** 2;
      expect(energy / 100e-9).toBeCloseTo(1, 6);
    }
  });
});
