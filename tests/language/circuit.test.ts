import { describe, expect, it } from "vitest";
import { modesOf } from "../../src/circuit/conditions.ts";
import { readNetlist } from "../../src/language/index.ts";
import { around, circuitOf, partOf, SAMPLE, said } from "./reading.ts";

const sample = circuitOf(SAMPLE);
const part = (name: string) => partOf(sample, name);
const netOf = (name: string, pin: string) =>
  sample.nets[part(name).pins.find((candidate) => candidate.name === pin)?.net ?? -1]?.name;

describe("The netlist with every statement", () => {
  it("is read without a word", () => expect(said(SAMPLE)).toEqual([]));

  it("has its title and ambient", () => {
    expect(sample.title).toBe("Every statement once");
    expect(sample.ambientCelsius).toBe(22);
  });

  it("gives each part its values in SI units, with defaults", () => {
    expect(part("B1").values).toEqual({ emf: 6, internal: 0.5 });
    expect(part("R1").values).toEqual({ resistance: 47e3, rating: 0.25 });
    expect(part("C2").values).toEqual({ capacitance: 10e-6, rated: 6, esr: 1, leakage: 5e-6 });
    expect(part("C3").values).toEqual({ capacitance: 4.7e-6 });
    expect(part("K1").values).toEqual({ inductance: 0.08, dcr: 100, capacitance: 100e-12, loss: 50e3 });
    expect(part("G1").values).toEqual({ emf: 1e-3, source: 600 });
    expect(part("P1").values).toEqual({ resistance: 10e3, setting: 0.5 });
    expect(part("P1").choices).toEqual({ law: "log" });
    expect(part("P2").choices).toEqual({ law: "linear" });
    expect(part("L1").values).toEqual({
      inductance: 4.7e-3,
      dcr: 12,
      loss: 100e3,
      q: 40,
      "q.at": 60e3,
      setting: 0.5,
      "setting.from": 3e-3,
      "setting.to": 7e-3,
    });
    expect(part("TH1").values).toEqual({ resistance: 130, "resistance.at": 25, bvalue: 3000 });
    expect(part("TH1").choices).toEqual({ tracks: "T2" });
    expect(part("LS1").values).toEqual({ impedance: 8, re: 7, le: 0.3e-3, fs: 180, qms: 4, qes: 2 });
    expect(part("LA1").values).toEqual({ rated: 6, current: 0.05 });
    expect(part("M1").values).toEqual({ resistance: 650, full: 250e-6 });
    expect(part("TR1").values).toEqual({ magnetising: 2.5, coupling: 0.998, loss: 40e3 });
    expect(part("TR1").choices).toEqual({ "magnetising.on": "primary", "loss.on": "primary" });
    expect(part("S1").values).toEqual({ contact: 0.02 });
  });

  it("gives tolerances of their own, else those of the kind, else none", () => {
    expect(part("R2").tolerance).toEqual({ low: -0.05, high: 0.05 });
    expect(part("R3").tolerance).toEqual({ low: -0.05, high: 0.05 });
    expect(part("R1").tolerance).toEqual({ low: -0.1, high: 0.1 });
    expect(part("C3").tolerance).toEqual({ low: -0.2, high: 1 });
    expect(part("P1").tolerance).toBeUndefined();
  });

  it("gives each kind its pins", () => {
    const pins = (name: string) => part(name).pins.map((pin) => pin.name);
    expect(pins("R1")).toEqual(["1", "2"]);
    expect(pins("P1")).toEqual(["1", "wiper", "2"]);
    expect(pins("P2")).toEqual(["1", "2"]);
    expect(pins("P3")).toEqual(["1", "wiper", "2"]);
    expect(pins("T1")).toEqual(["e", "b", "c"]);
    expect(pins("D1")).toEqual(["anode", "cathode"]);
    expect(pins("C2")).toEqual(["plus", "minus"]);
    expect(pins("S1")).toEqual(["a.common", "a.play", "a.record", "b.common", "b.play"]);
    expect(pins("TR1")).toEqual(["primary.1", "primary.2", "secondary.1", "secondary.tap", "secondary.2"]);
  });

  it("has the windings' sections and the poles' contacts", () => {
    expect(part("TR1").windings).toEqual([
      { name: "primary", turns: [1200], pins: [0, 1], dcr: 95 },
      { name: "secondary", turns: [300, 100], pins: [2, 3, 4], dcr: 22 },
    ]);
    expect(part("S1").positions).toEqual(["play", "record"]);
    expect(part("S1").poles).toEqual([
      { name: "a", common: 0, throws: { play: 1, record: 2 } },
      { name: "b", common: 3, throws: { play: 4 } },
    ]);
  });

  it("joins points by name, by pin and by wire", () => {
    expect(netOf("R1", "2")).toBe("T1.b");
    expect(netOf("T1", "b")).toBe("T1.b");
    expect(netOf("T2", "c")).toBe("T2.c");
    expect(netOf("TR1", "secondary.1")).toBe("hot");
    expect(netOf("S1", "b.common")).toBe("hot");
    expect(netOf("TH1", "1")).toBe("T2.b");
    expect(sample.nets[0]?.name).toBe("chassis");
    expect(sample.nets.find((net) => net.name === "T1.b")?.points).toEqual([
      "C2.minus",
      "R1.2",
      "R2.1",
      "T1.b",
    ]);
  });

  it("has modes, paths, readings and printed voltages", () => {
    expect(sample.modes).toEqual([
      {
        name: "play",
        states: [
          { part: "S1", key: "position", value: "play" },
          { part: "P1", key: "setting", value: 0.7 },
        ],
      },
      {
        name: "record",
        states: [
          { part: "S1", key: "position", value: "record" },
          { part: "P1", key: "setting", value: 0.3 },
          { part: "B1", key: "emf", value: 5.2 },
          { part: "C2", key: "esr", value: 2 },
        ],
      },
    ]);
    const net = (name: string) => sample.nets.findIndex((candidate) => candidate.name === name);
    expect(sample.paths.map(({ place: _, ...path }) => path)).toEqual([
      {
        name: "playback",
        mode: "play",
        from: "K1",
        to: { part: "LS1", quantity: "voltage" },
        toText: "LS1 voltage",
      },
      {
        name: "recording",
        mode: "record",
        from: "G1",
        to: { part: "K1", quantity: "current" },
        toText: "K1 current",
      },
      {
        name: "between",
        from: "G1",
        to: { net: net("T1.c"), minus: net("T1.e") },
        toText: "T1.c minus T1.e",
      },
    ]);
    expect(sample.readings[0]).toMatchObject({ mode: "play", point: "T1.c", volts: -3.2, net: net("T1.c") });
    expect(sample.printed[0]).toMatchObject({ mode: "record", point: "rail", volts: -6, net: net("rail") });
  });

  it("has the figures of its types as given", () => {
    expect(sample.types.PN1).toMatchObject({
      device: "pnp",
      material: "germanium",
      source: "a sheet of our own",
      figures: {
        hfe: 70,
        "hfe.at": 1e-3,
        hfe2: 45,
        "hfe2.at": 0.05,
        "spread.least": 40,
        "spread.greatest": 120,
        vbe: 0.12,
        "vbe.at": 1e-3,
        leakage: 4e-6,
        "leakage.max": 10e-6,
        "leakage.at": 25,
        doubling: 9,
        ft: 1e6,
        ccb: 30e-12,
        "ccb.at": 6,
        rbb: 90,
        h22: 20e-6,
        "h22.at": 1e-3,
        "limits.vce": 15,
        "limits.ic": 0.05,
        "limits.ptot": 0.1,
        "limits.tj": 75,
        rth: 400,
      },
    });
    expect(sample.types.DN1?.figures).toEqual({
      vf: 0.2,
      "vf.at": 1e-3,
      ideality: 1.2,
      rs: 5,
      "limits.vr": 20,
      "limits.if": 0.05,
    });
  });
});

describe("A net is shown", () => {
  const shown = (...lines: string[]) => circuitOf(around(...lines)).nets.map((net) => net.name);

  it("by the name given first, whatever else joins it", () => {
    expect(
      shown("wire late to early", "resistor R1 1k early to chassis", "resistor R2 1k late to chassis"),
    ).toContain("late");
  });

  it("as chassis wherever chassis is one of its names", () => {
    expect(shown("resistor R1 1k rail to earth", "wire earth to chassis")).toEqual(["chassis", "rail"]);
  });

  it("by its first transistor pin, else its first pin", () => {
    const names = shown(
      "resistor R1 1k rail to R2.1",
      "resistor R2 1k R3.1 to T1.b",
      "resistor R3 1k R1.2 to chassis",
      "transistor T1 PN1 e chassis c rail",
      "type PN1 pnp germanium",
    );
    expect(names).toEqual(["chassis", "rail", "R1.2", "T1.b"]);
  });
});

describe("A name may be", () => {
  it("a keyword, a unit or a number where a net stands", () => {
    const circuit = circuitOf(
      around(
        "resistor R1 4k7 1 to 2",
        "resistor R2 4.7 k to m",
        "resistor R3 1k log to to1",
        "potentiometer P1 10k log setting 50% log to resistor to chassis",
        "resistor R4 1k resistor to wire",
        "wire wire to k to m to 1 to 2 to log to to1 to rail",
      ),
    );
    expect(partOf(circuit, "R2").values.resistance).toBe(4.7);
    expect(partOf(circuit, "P1").values.setting).toBe(0.5);
    expect(circuit.nets.map((net) => net.name)).toEqual(["chassis", "rail", "resistor"]);
  });

  it("in letters of any language", () => {
    const circuit = circuitOf(
      around("resistor R1 1k lautstärke to chassis", "resistor Rä 1k lautstärke to rail"),
    );
    expect(circuit.nets.map((net) => net.name)).toContain("lautstärke");
  });
});

describe("Modes", () => {
  const withSwitch = around(
    "switch S1 low high",
    "  pole a rail low x high y",
    "resistor R1 1k x to chassis",
    "resistor R2 1k y to chassis",
  );

  it("are the positions of the first switch where none is named", () => {
    expect(modesOf(circuitOf(withSwitch)).map((mode) => mode.name)).toEqual(["low", "high"]);
    expect(circuitOf(`${withSwitch}\nreading high x 0 V`).readings).toHaveLength(1);
  });

  it("are one, as-drawn, without a switch", () => {
    expect(circuitOf(around("reading as-drawn rail -6 V")).readings[0]?.mode).toBe("as-drawn");
  });
});

describe("A winding", () => {
  const turns = (line: string) => {
    const text = around("transformer TR1", `  winding w ${line}`);
    return partOf(circuitOf(text), "TR1");
  };

  it("with a tap is split evenly unless its sections say otherwise", () => {
    expect(turns("400 turns rail to chassis to x\nresistor R1 1k x to rail").windings?.[0]?.turns).toEqual([
      200, 200,
    ]);
    expect(
      turns("300+100 turns dcr 1 ohm rail to chassis to x\nresistor R1 1k x to rail").windings?.[0]?.turns,
    ).toEqual([300, 100]);
  });

  it("names several taps by number", () => {
    const text = "1+2+3 turns dcr 6 ohm a to b to c to chassis\nresistor R1 1k a to b\nresistor R2 1k b to c";
    expect(turns(text).pins.map((pin) => pin.name)).toEqual(["w.1", "w.tap1", "w.tap2", "w.2"]);
  });
});

describe("Lines", () => {
  it("may end in any way and begin with a byte order mark", () => {
    for (const end of ["\n", "\r\n", "\r"]) {
      expect(said(`\ufeff${SAMPLE.replaceAll("\n", end)}`)).toEqual([]);
    }
  });

  it("that begin with blanks continue the statement above, over empty lines and comments", () => {
    const circuit = circuitOf(around("resistor R1", "  4k7", "", "# why", "\trail to", "   chassis"));
    expect(partOf(circuit, "R1").values.resistance).toBe(4700);
  });

  it("take their title from the file where the netlist has none", () => {
    expect(readNetlist(around(), { file: "demos/first.netlist" }).circuit?.title).toBe("first");
  });
});
