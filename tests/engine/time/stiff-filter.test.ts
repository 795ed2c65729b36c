import { describe, expect, it } from "vitest";
import { network, restingState } from "../../../src/engine/network.ts";
import { Collocation, copyPoint, timePoint } from "../../../src/engine/time/collocation.ts";
import { StiffFilter } from "../../../src/engine/time/stiff-filter.ts";
import { TimeSystem } from "../../../src/engine/time/time-system.ts";
import { readNetlist } from "../../../src/index.ts";

/** A tank of 100 pF and 1 µH, 10⁸ rad/s, 100 Ω: its quality is that of the resistance across it over 100 Ω. */
const tank = (quality: number) =>
  `capacitor C1 100p out to chassis\ninductor L1 1µH out to chassis\nresistor R1 ${100 * quality} out to chassis\n`;
const OMEGA = 1e8;

function energies(quality: number, radians: number, steps: number): { energies: number[]; filtered: number } {
  const built = network(readNetlist(tank(quality)).circuit!, { ambientCelsius: 25, isothermal: true });
  const state = restingState(built);
  state[0] = 1;
  const system = new TimeSystem(built, state);
  const formula = new Collocation(system, state, () => {});
  const filter = new StiffFilter(system);
  // a nanovolt, and as much of the current's swing
  system.pair.memory.weight.set([1e9, 1e11]);
  const now = timePoint(system, state);
  const begun = timePoint(system, state);
  formula.evaluate(now);
  const found: number[] = [];
  let filtered = 0;
  for (let k = 1; k <= steps; k++) {
    copyPoint(now, begun);
    expect(formula.step(now, radians / OMEGA)).toBe(true);
    copyPoint(formula.end, now);
    if (k % 4 === 0 && filter.apply(begun, formula.middle, now, radians / OMEGA)) filtered++;
    found.push(now.state[0]! ** 2 + 1e4 * now.state[1]! ** 2);
  }
  return { energies: found, filtered };
}

describe("the stiff filter", () => {
  it.each([2.5, 10, 100, 1000])(
    "lets no mode of quality %s grow, however many radians it turns in a step",
    (quality) => {
      for (const radians of [5, 10, 15, 20, 30, 45, 60, 100, 1000]) {
        const { energies: found, filtered } = energies(quality, radians, 80);
        expect(filtered).toBeGreaterThan(0);
        expect(Math.max(...found)).toBeLessThan(1.001);
        expect(found.at(-1)).toBeLessThan(0.9 * found[3]!);
      }
    },
  );

  it("leaves alone what turns by less than a radian in a step", () => {
    for (const radians of [0.1, 0.4, 0.8]) {
      const { energies: found, filtered } = energies(1e9, radians, 400);
      expect(filtered).toBe(0);
      expect(found.at(-1)).toBeCloseTo(1, 5);
    }
  });
});
