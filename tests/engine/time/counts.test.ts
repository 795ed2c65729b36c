import { describe, expect, it } from "vitest";
import { inMode, modesOf } from "../../../src/circuit/conditions.ts";
import { network, restingState } from "../../../src/engine/network.ts";
import { TimeRun } from "../../../src/engine/time/run.ts";
import { demo } from "../../netlists/demo.ts";

/** What a demonstration circuit needs in time, from rest, by count. */
function countsOf(name: string, mode: string, seconds: number) {
  const circuit = demo(name);
  const standing = inMode(circuit, modesOf(circuit).find((each) => each.name === mode)!);
  const built = network(standing, { ambientCelsius: 25, isothermal: true });
  const run = new TimeRun(built, restingState(built), {
    tolerance: 1e-4,
    longest: seconds / 50,
    drive() {},
  });
  expect(run.turn([])).toBe(true);
  while (run.seconds < seconds) expect(run.step(seconds)).toBe(true);
  return run.integrator.counts;
}

/** Each bound is a little above what is needed today; where a change of the engine raises one, find out why first. */
describe("a run in time, in counts", () => {
  it("brings the recorder up in a few hundred steps: nothing that shorter steps do not mend holds it up", () => {
    const { steps, rejected } = countsOf("recorder", "play", 3);
    expect(steps).toBeLessThan(600);
    expect(rejected).toBeLessThan(150);
  });

  it("follows the bias oscillator with fewer than 100 steps a period, of fewer than two iterations each", () => {
    const periods = 52.1e3 * 5e-3;
    const { steps, rejected, iterations } = countsOf("bias-oscillator", "as-drawn", 5e-3);
    expect(steps / periods).toBeLessThan(100);
    expect(iterations / (steps + rejected)).toBeLessThan(2);
  });
});
