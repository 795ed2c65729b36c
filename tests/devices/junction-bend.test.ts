import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { thermalVoltage } from "../../src/devices/constants.ts";
import { junctionBend } from "../../src/devices/exponential.ts";
import { junctionCapacitance, junctionCharge } from "../../src/devices/junction-capacitance.ts";

const VT = thermalVoltage(298.15);
const JUNCTION = { farads: 30e-12, at: 6, potential: 0.3 };

/** What a bend tells of a step. */
const told = (v: number, by: number) => junctionBend(v, VT, JUNCTION.potential) * by * by;

/** How far the current is off its tangent after a step from `v`, in volts at the conductance there, or at 0 V in reverse. */
const current = (v: number, by: number) =>
  VT * (Math.exp(by / VT) - 1 - by / VT) * Math.exp(Math.min(v, 0) / VT);

/** The same of the depletion charge, in volts at its capacitance. */
function charge(v: number, by: number): number {
  const [here, there] = [-v, -v - by].map((reverse) => junctionCharge(JUNCTION, reverse));
  const farads = junctionCapacitance(JUNCTION, -v);
  return Math.abs(there! - here! + by * farads) / farads;
}

const steps = fc.double({ min: 1e-3, max: 2e-3, noNaN: true }).chain((size) => fc.constantFrom(size, -size));
const volts = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe("the bend of a junction", () => {
  it("is what its current is off its tangent after a small step, forward, within 5 %", () => {
    fc.assert(
      fc.property(volts(0.002, 0.4), steps, (v, by) => {
        expect(current(v, by) / told(v, by)).toBeGreaterThan(0.95);
        expect(current(v, by) / told(v, by)).toBeLessThan(1.05);
      }),
    );
  });

  it("is what its depletion charge is off its tangent, in reverse, within 5 %", () => {
    fc.assert(
      fc.property(volts(-12, -0.3), steps, (v, by) => {
        expect(charge(v, by) / told(v, by)).toBeGreaterThan(0.95);
        expect(charge(v, by) / told(v, by)).toBeLessThan(1.05);
      }),
    );
  });

  it("covers what either is off where one gives way to the other", () => {
    fc.assert(
      fc.property(volts(-0.3, 0), steps, (v, by) => {
        expect(1.05 * told(v, by)).toBeGreaterThan(Math.max(current(v, by), charge(v, by)));
      }),
    );
  });
});
