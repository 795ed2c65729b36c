import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BOLTZMANN, ELEMENTARY_CHARGE } from "../../src/devices/constants.ts";
import { network } from "../../src/engine/network.ts";
import { noiseSources, OutputNoise } from "../../src/engine/noise.ts";
import { isSolved, operatingPoint, type SolvedPoint } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { battery, build, type Draft, deviceType, draft, farads, generator, ohms } from "./build.ts";
import { randomAmplifier } from "./random-circuits.ts";

const KELVIN = 298.15;
const FOUR_KT = 4 * BOLTZMANN * KELVIN;

function solved(drafts: readonly Draft[], types: Parameters<typeof build>[1] = []): SolvedPoint {
  const point = operatingPoint(network(build(drafts, types), { ambientCelsius: 25, isothermal: true }));
  if (!isSolved(point)) throw new Error("unsolved");
  return point;
}

/** Noise density at a net, V²/Hz, and what each source gives of it. */
function noiseAt(point: SolvedPoint, net: string, hertz: number) {
  const { circuit, unknowns } = point.network;
  const unknown = unknowns.net[circuit.nets.findIndex(({ name }) => name === net)]!;
  const output = new OutputNoise(new SmallSignal(point), noiseSources(point), [
    { unknown, conductance: 1, capacitance: 0 },
  ]);
  return { total: output.at(hertz), output };
}

describe("noise at an output", () => {
  it("is 4kT·R of two resistors in parallel", () => {
    const point = solved([ohms("R1", 1000, "a", "chassis"), ohms("R2", 3000, "a", "chassis")]);
    expect(noiseAt(point, "a", 1000).total / (FOUR_KT * 750)).toBeCloseTo(1, 12);
  });

  it("falls with a capacitor as 4kT·R/(1 + (ωRC)²)", () => {
    const point = solved([ohms("R1", 10e3, "a", "chassis"), farads("C1", 10e-9, "a", "chassis")]);
    for (const hertz of [10, 1591.55, 100e3]) {
      const x = 2 * Math.PI * hertz * 1e-4;
      expect((noiseAt(point, "a", hertz).total * (1 + x * x)) / (FOUR_KT * 10e3)).toBeCloseTo(1, 10);
    }
  });

  it("counts resistances in series with a source or a winding", () => {
    const point = solved([
      generator("G1", "a", "chassis", 600),
      draft("head", "K1", { inductance: 0.1, dcr: 200 }, "a", "b"),
      ohms("R1", 1e6, "b", "chassis"),
    ]);
    const x = 2 * Math.PI * 1000 * 0.1;
    const through = 1e6 ** 2 / ((1e6 + 800) ** 2 + x * x);
    const own = (1e6 ** 2 * (800 ** 2 + x * x)) / ((1e6 + 800) ** 2 + x * x) / 1e6;
    expect(noiseAt(point, "b", 1000).total / (FOUR_KT * (800 * through + own))).toBeCloseTo(1, 9);
  });

  it("is shot noise through a diode's own resistance: 2qI·(n·kT/q/I)²", () => {
    const type = deviceType("D", "diode", { vf: 0.2, "vf.at": 1e-3 });
    const point = solved(
      [
        battery("B1", 1000, "s", "chassis"),
        ohms("R1", 1e6, "s", "a"),
        { ...draft("diode", "D1", {}, "a", "chassis"), type: "D" },
      ],
      [type],
    );
    const { output } = noiseAt(point, "a", 1000);
    const shot = output.sources.findIndex(({ what }) => what === "current");
    const vt = (BOLTZMANN * KELVIN) / ELEMENTARY_CHARGE;
    const amps = (1000 - 0.2) / 1e6;
    expect(output.densities[shot]! / (2 * ELEMENTARY_CHARGE * amps * (vt / amps) ** 2)).toBeCloseTo(1, 1);
    expect(output.densities[shot]! / (2 * ELEMENTARY_CHARGE * amps * (vt / amps) ** 2)).toBeLessThan(1);
  });

  it("carries every injection as one forward solution each does (adjoint)", () => {
    fc.assert(
      fc.property(randomAmplifier, fc.constantFrom(20, 5000), ({ drafts, types }, hertz) => {
        const circuit = build(drafts, types);
        const point = operatingPoint(network(circuit, { ambientCelsius: 25, isothermal: false }));
        fc.pre(isSolved(point));
        if (!isSolved(point)) return;
        const smallSignal = new SmallSignal(point);
        smallSignal.tune(hertz);
        const { unknowns } = point.network;
        const [out, other] = [unknowns.net[2]!, unknowns.net[3]!];
        const [re, im] = [new Float64Array(unknowns.stateSize), new Float64Array(unknowns.stateSize)];
        smallSignal.adjoint([{ unknown: out, conductance: 1, capacitance: 1e-6 }], re, im);
        // what is far smaller than the largest transfer is rounding
        const floor = 1e-12 * Math.max(...re.map(Math.abs), ...im.map(Math.abs));
        for (const node of [out, other]) {
          smallSignal.driveCurrents([[node, 1]]);
          const x = smallSignal.at(out);
          const omega = 2 * Math.PI * hertz * 1e-6;
          const size = Math.hypot(x.re, x.im) * Math.hypot(1, omega);
          expect(Math.abs(re[node]! - (x.re - omega * x.im))).toBeLessThanOrEqual(1e-7 * size + floor);
          expect(Math.abs(im[node]! - (x.im + omega * x.re))).toBeLessThanOrEqual(1e-7 * size + floor);
        }
      }),
      { numRuns: 150 },
    );
  });
});
