import { describe, expect, it } from "vitest";
import { withPartStates } from "../../src/circuit/conditions.ts";
import { network } from "../../src/engine/network.ts";
import { isSolved, OperatingPointSolver, operatingPoint } from "../../src/engine/operating-point.ts";
import { battery, build, deviceType, ohms, transistor } from "./build.ts";

const PNP = deviceType("P", "pnp", { hfe: 70, "hfe.at": 1e-3, vbe: 0.12, "vbe.at": 1e-3, leakage: 4e-6 });

const stage = build(
  [
    battery("B1", 9, "chassis", "rail", 0.5),
    ohms("R1", 39e3, "rail", "b"),
    ohms("R2", 8200, "b", "chassis"),
    ohms("R3", 3900, "rail", "c"),
    ohms("R4", 1000, "e", "chassis"),
    transistor("T1", "P", "e", "b", "c"),
  ],
  [PNP],
);

function cold(circuit: typeof stage, ambientCelsius: number): Float64Array {
  const point = operatingPoint(network(circuit, { ambientCelsius, isothermal: false }));
  if (!isSolved(point)) throw new Error("unsolved");
  return point.state;
}

describe("a retuned network", () => {
  it("solves warm to what a network built anew solves cold: values, samples, battery and ambient", () => {
    const solver = new OperatingPointSolver(network(stage, { ambientCelsius: 25, isothermal: false }));
    let state = cold(stage, 25);
    const trials = [
      { ambient: 25, states: [{ part: "R4", key: "resistance", value: 820 }] },
      { ambient: 45, states: [{ part: "T1", key: "hfe", value: 40 }] },
      { ambient: -10, states: [{ part: "T1", key: "leakage", value: 9e-6 }] },
      { ambient: 25, states: [{ part: "B1", key: "emf", value: 5.5 }] },
    ];
    for (const { ambient, states } of trials) {
      const circuit = withPartStates(stage, states);
      expect(solver.retune(circuit, ambient)).toBe(true);
      const warm = solver.solve(state);
      if (!isSolved(warm)) throw new Error("unsolved");
      cold(circuit, ambient).forEach((value, k) => {
        expect(Math.abs(warm.state[k]! - value)).toBeLessThanOrEqual(1e-9 * Math.abs(value) + 1e-12);
      });
      expect(warm.steps).toBeLessThan(12);
      state = warm.state;
    }
  });

  it("is refused when a part has lost a property that makes an equation of its own", () => {
    const solver = new OperatingPointSolver(network(stage, { ambientCelsius: 25, isothermal: false }));
    expect(solver.retune({ ...stage, parts: stage.parts.slice(1) }, 25)).toBe(false);
  });
});
