import { describe, expect, it } from "vitest";
import { offersAt } from "../../../src/page/editor/offers.ts";
import { survey } from "../../../src/page/editor/survey.ts";

const NETLIST = `circuit "two modes"
use library
battery B1 9 V plus chassis minus rail
switch S1 play record
    pole a  out  play speaker  record head
resistor R1 4k7 rail to T1.b
resistor R7 1k rail to T1.c
transistor T1 LN e chassis
transformer TR1
    winding primary 100 turns T1.c to rail
generator G1 1 mV T1.b to chassis
type LN pnp germanium
    hfe 70 at 1 mA
`;

/** Labels offered at the end of the netlist with `line` behind it. */
function labels(line: string): readonly string[] {
  const text = NETLIST + line;
  return offersAt(text, text.length, survey([text]))?.offers.map(({ label }) => label) ?? [];
}

describe("what may stand in a netlist", () => {
  it("begins a line with every kind of part and every other statement", () => {
    expect(labels("re")).toContain("resistor");
    expect(labels("re")).toContain("reading");
  });

  it("offers the next free designator of its kind", () => {
    expect(labels("resistor ")).toEqual(["R8"]);
    expect(labels("diode ")).toEqual(["D1"]);
  });

  it("offers the netlist's own types and those of the library, transistors for a transistor and diodes for a diode", () => {
    const types = labels("transistor T2 ");
    expect(types[0]).toBe("LN");
    expect(types.length).toBeGreaterThan(10);
    expect(types.filter((name) => labels("diode D1 ").includes(name))).toEqual(["LN"]);
  });

  it("offers the pins of the part before the dot", () => {
    expect(labels("wire rail to T1.")).toEqual(["T1.e", "T1.b", "T1.c"]);
    expect(labels("wire rail to S1.")).toEqual(["S1.a.common", "S1.a.play", "S1.a.record"]);
    expect(labels("wire rail to TR1.pr")).toEqual(["TR1.primary.1", "TR1.primary.2", "TR1.primary.tap"]);
    expect(labels("wire rail to X9.")).toEqual([]);
  });

  it("offers nets behind the words that join, the contacts of a switch among them", () => {
    for (const net of ["chassis", "rail", "out", "speaker", "head"])
      expect(labels("wire rail to ")).toContain(net);
    expect(labels("battery B2 6 V plus ")).toContain("rail");
    expect(labels("wire rail to ")).not.toContain("record");
  });

  it("offers modes, sources and ends along a path", () => {
    expect(labels("path playback in ")).toEqual(["play", "record"]);
    expect(labels("path playback in play from ")).toEqual(["G1"]);
    expect(labels("path playback in play from G1 to R7 ")).toEqual(["voltage", "current"]);
  });

  it("offers in a mode what can be set, then the positions of the switch", () => {
    expect(labels("mode tired ")).toEqual(["B1", "S1"]);
    expect(labels("mode tired S1 ")).toEqual(["play", "record"]);
  });

  it("offers the figures of a data sheet on the lines of a type", () => {
    const figures = labels("type LX npn silicon\n    ");
    expect(figures).toContain("leakage");
    expect(labels("type DX diode germanium\n    ")).toContain("vf");
    expect(labels("type DX diode germanium\n    ")).not.toContain("hfe");
  });

  it("offers nothing in a remark or in quotes", () => {
    expect(labels("resistor R9 # vol")).toEqual([]);
    expect(labels('circuit "res')).toEqual([]);
  });

  it("replaces the word that is begun, and does not offer what stands there already", () => {
    const text = `${NETLIST}wire rail to T1.b`;
    const found = offersAt(text, text.length, survey([text]));
    expect(text.slice(found!.from)).toBe("T1.b");
    expect(found!.offers.map(({ label }) => label)).not.toContain("T1.b");
  });
});
