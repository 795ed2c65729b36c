import { describe, expect, it } from "vitest";
import { power, readNetlist, regulation } from "../src/index.ts";

const motor = readNetlist(`
battery   B1  7 V plus feed minus chassis
governor  GV1 of M1 opens 2400 rpm closes 2380 rpm feed to rail
resistor  R1  47R feed to rail
motor     M1  18 ohm emf 2.1 mV/rpm inertia 40 gcm2 drag 0.4 mNm load 0.6 mNm plus rail minus chassis
`).circuit!;

const stage = readNetlist(`
use library
battery    B1 9 V plus chassis minus rail
generator  G1 1 mV source 1k in to chassis
electrolytic C1 10µ plus in minus T1.b
resistor   R1 470k rail to T1.b
resistor   R2 4k7 rail to T1.c
transistor T1 OC71
path       stage from G1 to T1.c
`).circuit!;

describe("the library in time", () => {
  it("tells how a governed motor keeps its speed", () => {
    const { results } = regulation(motor, { points: 3, batteries: { B1: { from: 6, to: 8 } } });
    expect(results.map(({ against }) => against)).toEqual(["B1", "load of M1"]);
    expect(results[0]!.points.map(({ held }) => held)).toEqual(["regulated", "regulated", "regulated"]);
  });

  it("tells what comes out of a stage at each level", () => {
    const { results } = power(stage, { levels: [1e-3, 1e-2] });
    const [first, second] = results[0]!.points;
    expect(second!.distortion).toBeGreaterThan(5 * first!.distortion);
    expect(first!.output_watts).toBeUndefined();
  });

  it.each([
    [() => regulation(motor, { modes: ["play"] }), 'the circuit has no mode "play"'],
    [() => regulation(motor, { batteries: { B2: { from: 1, to: 2 } } }), 'the circuit has no battery "B2"'],
    [() => regulation(motor, { points: 1 }), "two points or more, not 1"],
    [() => power(stage, { paths: ["stagger"] }), 'the circuit has no path "stagger"'],
    [() => power(stage, { hertz: 0 }), "a frequency is above 0, not 0"],
    [() => power(stage, { levels: [1e-3, -1] }), "an EMF is above 0, not -1"],
  ])("refuses what cannot be", (ask, sentence) => {
    expect(ask).toThrow(sentence);
  });
});
