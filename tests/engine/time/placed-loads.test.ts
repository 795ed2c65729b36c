import { describe, expect, it } from "vitest";
import { network, restingState } from "../../../src/engine/network.ts";
import { TimeSystem } from "../../../src/engine/time/time-system.ts";
import { readNetlist } from "../../../src/index.ts";

const DIODE = "diode D1 DD anode out cathode chassis\ntype DD diode silicon\n    vf 600 mV at 1 mA\n";

/** A diode at 0.5 V, of which a step may be off by so many volts; how often it has been looked at, and F. */
function diodeAt(mayBeOff: number) {
  const { circuit } = readNetlist(`resistor R1 1k out to chassis\n${DIODE}`);
  const built = network(circuit!, { ambientCelsius: 25, isothermal: true });
  const system = new TimeSystem(built, restingState(built));
  const { device } = built.devices[0]!;
  const evaluate = device.evaluate.bind(device);
  let looks = 0;
  device.evaluate = (...given) => {
    looks++;
    return evaluate(...given);
  };
  const { memory } = system.pair;
  const put = (volts: number) => memory.x.fill(volts);
  put(0.5);
  system.evaluateEnd();
  memory.weight.fill(1 / mayBeOff);
  return { system, put, looks: () => looks, current: () => memory.f[1]! };
}

describe("a device in time", () => {
  it("keeps its tangent from step to step while it hardly moves", () => {
    const { system, put, looks } = diodeAt(1e-4);
    const before = looks();
    put(0.5 + 1e-5);
    system.move();
    system.evaluate();
    expect(looks()).toBe(before);
  });

  it("is looked at again, at the middle and at the end, when it has moved so far that its bend would show", () => {
    const { system, put, looks } = diodeAt(1e-4);
    const before = looks();
    put(0.51);
    system.move();
    system.evaluate();
    expect(looks()).toBe(before + 2);
    system.move();
    system.evaluate();
    expect(looks()).toBe(before + 2);
  });

  it("is off its tangent by far less than a step may be off", () => {
    const mayBeOff = 1e-4;
    const { system, put, looks, current } = diodeAt(mayBeOff);
    const before = looks();
    let by = 1e-6;
    let tangent = current();
    for (; looks() === before; by *= 1.1) {
      tangent = current();
      put(0.5 + by);
      system.move();
      system.evaluate();
    }
    // one step back: the farthest it went without being looked at
    const farthest = 0.5 + by / 1.21;
    put(farthest);
    system.evaluateEnd();
    const vt = (1.380649e-23 / 1.602176634e-19) * 298.15;
    const conductance = ((1e-3 / (Math.exp(0.6 / vt) - 1)) * Math.exp(farthest / vt)) / vt;
    expect(Math.abs(tangent - current())).toBeGreaterThan(0);
    expect(Math.abs(tangent - current())).toBeLessThan(0.05 * mayBeOff * conductance);
  });
});
