import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { response } from "../../src/bench/response.ts";
import { voltages } from "../../src/bench/voltages.ts";
import type { Circuit, SignalPath } from "../../src/circuit/circuit.ts";
import { battery, build, type Draft, generator, ohms } from "./build.ts";
import { randomAmplifier, randomPassive } from "./random-circuits.ts";

const place = { file: "built", line: 1, column: 1 };
const HERTZ = [10, 1000, 50e3];

const pathTo = (to: SignalPath["to"], from = "G1"): SignalPath => ({
  name: `${from} out`,
  from,
  to,
  toText: "out",
  place,
});

function gains(circuit: Circuit, ...paths: SignalPath[]) {
  const { results, failures } = response({ ...circuit, paths }, {}, HERTZ);
  expect(failures).toEqual([]);
  return results.map(({ real, imag }) => real.map((re, k) => ({ re, im: imag[k]! })));
}

/** Chart of a circuit that must solve, or undefined where it honestly does not. */
const chartOf = (drafts: readonly Draft[], types: Parameters<typeof build>[1]) =>
  voltages(build(drafts, types)).results[0];

const close = (a: number, b: number, relative: number, floor: number) =>
  expect(Math.abs(a - b)).toBeLessThanOrEqual(relative * Math.max(Math.abs(a), Math.abs(b)) + floor);

describe("passive networks", () => {
  it("are reciprocal: EMF here and current there may be exchanged", () => {
    fc.assert(
      fc.property(randomPassive, (network) => {
        const circuit = build([
          ...network,
          generator("G1", "n0", "chassis", 50),
          generator("G2", "n1", "chassis", 80),
        ]);
        const [forward, backward] = gains(
          circuit,
          pathTo({ part: "G2", quantity: "current" }, "G1"),
          pathTo({ part: "G1", quantity: "current" }, "G2"),
        );
        forward!.forEach((value, k) => {
          close(value.re, backward![k]!.re, 1e-8, 1e-15);
          close(value.im, backward![k]!.im, 1e-8, 1e-15);
        });
      }),
    );
  });

  it("superpose: two sources together give the sum of each alone", () => {
    fc.assert(
      fc.property(randomPassive, fc.double({ min: 0.1, max: 10, noNaN: true }), (network, second) => {
        const both = (a: number, b: number) => [
          ...network,
          battery("B1", a, "n0", "s", 10),
          ohms("RS", 1, "s", "chassis"),
          battery("B2", b, "n1", "t", 20),
          ohms("RT", 1, "t", "chassis"),
        ];
        const [together, one, other] = [both(1, second), both(1, 0), both(0, second)].map(
          (drafts) => chartOf(drafts, [])!,
        );
        for (const [net, { volts }] of Object.entries(together!.nets)) {
          close(volts, one!.nets[net]!.volts + other!.nets[net]!.volts, 1e-9, 1e-12);
        }
      }),
    );
  });
});

describe("transistor circuits", () => {
  it("balance their power: what the batteries give, the parts take (Tellegen)", () => {
    fc.assert(
      fc.property(randomAmplifier, ({ drafts, types }) => {
        const chart = chartOf(drafts, types);
        fc.pre(chart !== undefined);
        const parts = Object.values(chart!.parts).map(({ watts }) => watts);
        const transistors = Object.values(chart!.transistors).map(
          ({ dissipation_watts }) => dissipation_watts,
        );
        const all = [...parts, ...transistors];
        const turnover = all.reduce((sum, watts) => sum + Math.abs(watts), 0);
        // a picoampere may be missing at each net
        const missing =
          1e-12 * Object.values(chart!.nets).reduce((sum, { volts }) => sum + Math.abs(volts), 0);
        expect(Math.abs(all.reduce((sum, watts) => sum + watts, 0))).toBeLessThanOrEqual(
          1e-9 * turnover + missing,
        );
      }),
      { numRuns: 300 },
    );
  });

  it("do not care how parts and nets are named, nor in what order they stand", () => {
    fc.assert(
      fc.property(randomAmplifier, ({ drafts, types }) => {
        const renamed = [...drafts].reverse().map((draft) => ({
          ...draft,
          name: `Z${draft.name}`,
          nets: draft.nets.map((net) => (net === "chassis" ? net : `m${net}`)),
        }));
        const [one, other] = [chartOf(drafts, types), chartOf(renamed, types)];
        fc.pre(one !== undefined && other !== undefined && sameBranch(one!, other!));
        for (const [net, { volts }] of Object.entries(one!.nets)) {
          if (net !== "chassis") close(volts, other!.nets[`m${net}`]!.volts, 1e-7, 1e-9);
        }
      }),
      { numRuns: 200 },
    );
  });

  it("mirror: PNP for NPN and the battery turned round gives the same voltages with the other sign", () => {
    fc.assert(
      fc.property(randomAmplifier, ({ drafts, types }) => {
        const turned = drafts.map((draft) =>
          draft.kind === "battery" ? { ...draft, nets: [draft.nets[1]!, draft.nets[0]!] } : draft,
        );
        const exchanged = types.map((type) => ({
          ...type,
          device: type.device === "pnp" ? ("npn" as const) : ("pnp" as const),
        }));
        const [one, other] = [chartOf(drafts, types), chartOf(turned, exchanged)];
        expect(one === undefined).toBe(other === undefined);
        fc.pre(one !== undefined);
        for (const [net, { volts }] of Object.entries(one!.nets)) {
          close(volts, -other!.nets[net]!.volts, 1e-9, 1e-12);
        }
      }),
      { numRuns: 200 },
    );
  });
});

/** Circuits with more than one stable state may settle in either; those are not compared. */
function sameBranch(a: { transistors: object }, b: { transistors: object }): boolean {
  const regions = (chart: { transistors: object }) =>
    Object.entries(chart.transistors)
      .map(([name, { region }]) => `${name.replace(/^Z/, "")} ${region}`)
      .sort()
      .join();
  return regions(a) === regions(b);
}
