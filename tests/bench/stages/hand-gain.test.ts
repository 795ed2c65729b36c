import { describe, expect, it } from "vitest";
import { demo } from "../../netlists/demo.ts";
import { loopIn, stageIn, stagesOf } from "./stages-of.ts";

describe("where the hand gain and the solved one differ, the reason", () => {
  it("is the next stage's load behind a collector resistor", () => {
    const stage = stageIn(stagesOf(demo("common-emitter"), { modes: ["bypassed"] }), "T1");
    // R3 ∥ R6 = 3.3k ∥ 10k is 0.75 of R3
    expect(stage.difference).toBe("loading by what follows (× 0.75)");
  });

  it("is a bypass capacitor that has lost its capacitance", () => {
    const dried = [{ part: "C2", key: "capacitance", value: 3e-6 }];
    const stage = stageIn(stagesOf(demo("common-emitter"), { modes: ["bypassed"], set: dried }), "T1");
    expect(stage.hand_formula).toBe("−R3/r_e");
    expect(stage.difference).toMatch(/^bypass C2 too small at this frequency/);
  });

  // Common practice, no source: the halves' currents are opposite, so that a resistor both share carries no signal
  it("is not a resistor that both halves of a push-pull stage share, and is one that each has", () => {
    const pair = (emitters: string) =>
      stagesOf(`type P pnp germanium
    hfe 80 at 10 mA
    vbe 160 mV at 10 mA
    rbb 5 ohm
battery B1 6 V plus chassis minus rail
generator G1 10 mV source 1k in to chassis
transformer TR1 magnetising 3 H on primary coupling 0.999
    winding primary 1000 turns in to chassis
    winding secondary 1000 turns b1 to bias to b2
resistor R1 1k8 rail to bias
resistor R2 68R bias to chassis
transistor T1 P b b1
transistor T2 P b b2
${emitters}
transformer TR2 magnetising 1 H on primary coupling 0.999
    winding primary 400 turns T1.c to rail to T2.c
    winding secondary 80 turns speaker to chassis
resistor R4 8R speaker to chassis
path power from G1 to speaker
`);
    const shared = stageIn(pair("wire T1.e to T2.e\nresistor R3 5R T1.e to chassis"), "T1");
    expect(shared.configuration).toBe("push-pull half");
    expect(shared.hand_formula).toBe("−R′/r_e");
    expect(shared).not.toHaveProperty("difference");
    const both = "resistor R5 3R3 T1.e to tail\nresistor R6 3R3 T2.e to tail\nresistor R3 5R tail to chassis";
    const own = stageIn(pair(both), "T1");
    expect(own.hand_formula).toBe("−R′/(r_e + R5)");
    expect(own).not.toHaveProperty("difference");
  });

  it("is the transistor's own output conductance where the load is high", () => {
    const stage = stageIn(
      stagesOf(`type LOW pnp germanium
    hfe 70 at 1 mA
    vbe 120 mV at 1 mA
    early 15 V
battery B1 20 V plus chassis minus rail
generator G1 1 mV source 100 ohm in to chassis
capacitor C1 100µ in to T1.b
resistor R1 130k rail to T1.b
resistor R2 10k T1.b to chassis
resistor R3 1k2 T1.e to chassis
electrolytic C2 1000µ plus chassis minus T1.e
resistor R4 10k rail to T1.c
transistor T1 LOW
path all from G1 to T1.c
`),
      "T1",
    );
    expect(stage.difference).toMatch(/^the transistor's own output conductance/);
  });

  it("is feedback in a pair whose output returns to the first emitter", () => {
    const stage = stageIn(stagesOf(demo("direct-coupled-pair")), "T1");
    expect(stage.difference).toMatch(/^feedback from elsewhere/);
  });

  it("is not given where they agree within a fifth", () => {
    const follower = stageIn(stagesOf(demo("twin-t")), "T1");
    expect(follower).not.toHaveProperty("difference");
    expect(Math.abs((follower.solved_gain ?? 0) / (follower.hand_gain ?? 1) - 1)).toBeLessThan(0.2);
  });
});

describe("the parts that close a loop", () => {
  const recorder = demo("recorder");
  const play = stagesOf(recorder, { modes: ["play"] });

  it("of the recorder's amplifier are R14 for direct current and the equaliser C11 R19 for signals", () => {
    expect(loopIn(play, "T3", "T2").dc_parts).toEqual(["R14"]);
    expect(loopIn(play, "T4", "T2").ac_parts).toEqual(["C11", "R19"]);
    expect(loopIn(play, "T4", "T2").through).toEqual(["T2", "T3", "T4"]);
  });

  it("of its output stage lead through the output transformer and R35", () => {
    const loop = loopIn(play, "T6", "T5");
    expect(loop.from).toEqual(["T6", "T7"]);
    expect(loop.ac_parts).toEqual(expect.arrayContaining(["TR2", "R35"]));
    expect(loop.ac_loop_gain).toBeGreaterThan(1);
    expect(loop.phase_margin_degrees).toBeGreaterThan(30);
  });

  it("of a stage of its own are the emitter's resistors, bypassed or not", () => {
    const own = loopIn(play, "T1", "T1");
    expect(own.dc_parts).toEqual(["R9"]);
    expect(own.ac_parts).toEqual(["R8"]);
  });

  it("change with the switch: in record the loop leads through C12 R20 R21", () => {
    const record = stagesOf(recorder, { modes: ["record"] });
    expect(loopIn(record, "T4", "T2").ac_parts).toEqual(["C12", "R20", "R21"]);
  });

  it("of a resistor from collector to base are that resistor, for direct current and for signals", () => {
    const result = stagesOf(`type GP pnp germanium
    hfe 70 at 1 mA
    vbe 120 mV at 1 mA
battery B1 9 V plus chassis minus rail
generator G1 1 mV source 10k in to chassis
capacitor C1 10µ in to T1.b
resistor R1 270k T1.c to T1.b
resistor R2 4k7 rail to T1.c
transistor T1 GP e chassis
path all from G1 to T1.c
`);
    const loop = loopIn(result, "T1", "T1");
    expect(loop.dc_parts).toEqual(["R1"]);
    expect(loop.ac_parts).toEqual(["R1"]);
  });
});
