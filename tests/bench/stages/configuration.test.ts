import { describe, expect, it } from "vitest";
import type { Configuration } from "../../../src/bench/stages/results.ts";
import { stages } from "../../../src/bench/stages.ts";
import { DEMOS, demo } from "../../netlists/demo.ts";
import { circuitOf, stageIn, stagesOf } from "./stages-of.ts";

const CE = "common emitter";
const DEGENERATED = "degenerated common emitter";
const FOLLOWER = "emitter follower";
const HALF = "push-pull half";

type Expected = Readonly<Record<string, Readonly<Record<string, Configuration>>>>;

/** What each transistor of each demonstration circuit is there for, mode by mode. */
const EXPECTED: Readonly<Record<string, Expected>> = {
  "bias-oscillator": { "as-drawn": { T1: "oscillator" } },
  "bias-trap": { "as-drawn": {} },
  "common-emitter": { bypassed: { T1: CE }, degenerated: { T1: DEGENERATED } },
  "direct-coupled-pair": { "as-drawn": { T1: DEGENERATED, T2: CE } },
  "emitter-follower": { "as-drawn": { T1: FOLLOWER } },
  "motor-regulator": {
    // the governor's contact is closed: the oscillator is held still
    slow: { T1: DEGENERATED, T2: "cut off", T3: "saturated" },
    fast: { T1: "oscillator", T2: "cut off", T3: "saturated" },
    run: { T1: "oscillator", T2: "cut off", T3: "saturated" },
  },
  "phase-splitter-transformer": { "as-drawn": { T1: DEGENERATED } },
  recorder: {
    play: {
      T1: DEGENERATED,
      T2: DEGENERATED,
      T3: CE,
      T4: FOLLOWER,
      T5: DEGENERATED,
      T6: HALF,
      T7: HALF,
      T8: "supply filter",
    },
    record: {
      T1: DEGENERATED,
      T2: DEGENERATED,
      T3: CE,
      T4: FOLLOWER,
      T5: "cut off",
      T6: "oscillator",
      T7: FOLLOWER,
      T8: "supply filter",
    },
  },
  "thermistor-bias": { compensated: { T1: HALF, T2: HALF }, resistor: { T1: HALF, T2: HALF } },
  "treble-boost": { flat: { T1: DEGENERATED, T2: CE }, raised: { T1: DEGENERATED, T2: CE } },
  "twin-t": { "as-drawn": { T1: FOLLOWER } },
};

describe("the configuration of every transistor", () => {
  it.each(DEMOS.map((name) => [name]))(
    "of %s is found from the circuit, in every mode",
    (name) => {
      const { results, failures } = stages(demo(name));
      const found = Object.fromEntries(
        results.map(({ mode, stages: all }) => [
          mode,
          Object.fromEntries(all.map(({ transistor, configuration }) => [transistor, configuration])),
        ]),
      );
      expect(failures).toEqual([]);
      expect(found).toEqual(EXPECTED[name]);
    },
    30_000,
  );

  it("does not hang on names: with all parts and nets renamed it is the same", () => {
    const circuit = demo("direct-coupled-pair");
    const renamed = {
      ...circuit,
      nets: circuit.nets.map((net, k) => (k === 0 ? net : { ...net, name: `n${k}` })),
      parts: circuit.parts.map((part, k) => ({ ...part, name: `X${k}` })),
      paths: circuit.paths.map((path) => ({
        ...path,
        from: `X${circuit.parts.findIndex(({ name }) => name === path.from)}`,
      })),
    };
    const kinds = stagesOf(renamed).stages.map(({ configuration }) => configuration);
    expect(kinds).toEqual([DEGENERATED, CE]);
  });
});

const TYPE = `type GP pnp germanium
    hfe 70 at 1 mA
    vbe 120 mV at 1 mA
    leakage 2 µA at 25 °C
`;

describe("other tasks", () => {
  it("of the upper transistor of a cascode is common base, of the lower common emitter", () => {
    const result = stagesOf(`${TYPE}
battery B1 9 V plus chassis minus rail
generator G1 1 mV source 1k in to chassis
capacitor C1 10µ in to T1.b
resistor R1 68k rail to T1.b
resistor R2 10k T1.b to chassis
resistor R3 1k T1.e to chassis
electrolytic C2 100µ plus chassis minus T1.e
transistor T1 GP c middle
transistor T2 GP e middle b held
resistor R4 22k rail to held
resistor R5 15k held to chassis
electrolytic C3 47µ plus chassis minus held
resistor R6 2k2 T2.c to rail
path all from G1 to T2.c
`);
    expect(stageIn(result, "T1").configuration).toBe("common emitter");
    expect(stageIn(result, "T2").configuration).toBe("common base");
    expect(stageIn(result, "T2").hand_formula).toBe("R6/r_e");
  });

  it("of a saturated, a cut-off and a diode-connected transistor are named as such", () => {
    const result = stagesOf(`${TYPE}
battery B1 9 V plus chassis minus rail
resistor R1 10k rail to T1.b
resistor R2 10k rail to T1.c
transistor T1 GP e chassis
resistor R3 1k T2.b to chassis
resistor R4 1k rail to T2.c
transistor T2 GP e chassis
resistor R5 4k7 rail to T3.b
wire T3.b to T3.c
transistor T3 GP e chassis
`);
    expect(stageIn(result, "T1").configuration).toBe("saturated");
    expect(stageIn(result, "T2").configuration).toBe("cut off");
    expect(stageIn(result, "T3").configuration).toBe("diode-connected");
  });

  it("of a complementary pair on one load are push-pull halves", () => {
    const result = stagesOf(`type P pnp germanium
    hfe 80 at 10 mA
    vbe 160 mV at 10 mA
type N npn germanium
    hfe 80 at 10 mA
    vbe 160 mV at 10 mA
battery B1 6 V plus high minus chassis
battery B2 6 V plus chassis minus low
generator G1 100 mV source 1k in to chassis
electrolytic C1 10µ plus upper minus in
electrolytic C2 10µ plus in minus lower
resistor R1 1k5 high to upper
resistor R2 47R upper to lower
resistor R3 1k5 lower to low
transistor T1 N b upper c high
transistor T2 P b lower c low
resistor R4 2R2 T1.e to out
resistor R5 2R2 T2.e to out
loudspeaker LS1 8 ohm out to chassis
path power from G1 to out
`);
    expect(stageIn(result, "T1")).toMatchObject({ configuration: "push-pull half", partner: "T2" });
    expect(stageIn(result, "T2")).toMatchObject({ configuration: "push-pull half", partner: "T1" });
  });

  it("are told for a circuit without any source, by what signals cannot move", () => {
    const result = stagesOf(`${TYPE}
battery B1 9 V plus chassis minus rail
resistor R1 68k rail to T1.b
resistor R2 68k T1.b to chassis
resistor R3 2k2 T1.e to chassis
transistor T1 GP c rail
`);
    expect(stageIn(result, "T1").configuration).toBe("emitter follower");
  });

  it("are not asked of a circuit without transistors: it has no stages", () => {
    const plain = circuitOf("battery B1 9 V plus a minus chassis\nresistor R1 1k a to chassis\n");
    expect(stages(plain).results[0]?.stages).toEqual([]);
  });
});

describe("a circuit that tips over", () => {
  it("has two oscillators at 0 Hz: two stages crosswise, at the balance between their two states", () => {
    const result = stagesOf(`${TYPE}
battery B1 9 V plus chassis minus rail
resistor R1 2k2 rail to T1.c
resistor R2 2k2 rail to T2.c
resistor R3 22k T1.c to T2.b
resistor R4 22k T2.c to T1.b
resistor R5 220k T1.b to chassis
resistor R6 220k T2.b to chassis
resistor R7 1k T1.e to chassis
wire T1.e to T2.e
transistor T1 GP
transistor T2 GP
`);
    for (const name of ["T1", "T2"]) {
      const stage = stageIn(result, name);
      expect(stage.configuration).toBe("oscillator");
      expect(stage.oscillation?.hertz).toBe(0);
      expect(stage.oscillation?.loop_gain).toBeGreaterThan(1);
    }
  });
});
