/**
 * What `stages` says against worked examples: gains by hand, resistances at the transistor, stability factors,
 * and what a shift of V_BE or ten degrees do to a pair whose bias does not follow. See gain.test.ts and book.ts
 * for how the books' transistors are stated.
 */
import { describe, expect, it } from "vitest";
import type { StagesResult } from "../../src/bench/stages/results.ts";
import { stages } from "../../src/bench/stages.ts";
import { circuitOf, expectNear, expectWithin } from "./bench.ts";
import { dividerBias, hTransistor, IDEAL_BETA, settle } from "./book.ts";
import { BOLTZMANN, ELEMENTARY_CHARGE } from "./physics.ts";

const VT = 0.025;
const ROOM = (BOLTZMANN * 298.15) / ELEMENTARY_CHARGE;

function stagesOf(text: string): StagesResult {
  const { results, failures } = stages(circuitOf(text));
  const [only] = results;
  if (only === undefined) throw new Error(failures[0]?.message);
  return only;
}

const stageIn = (result: StagesResult, name = "T1") => {
  const found = result.stages.find(({ transistor }) => transistor === name);
  if (found === undefined) throw new Error(`no ${name}`);
  return found;
};

const driven =
  "generator G1 1 mV drive to chassis\ncapacitor C1 1 F drive to T1.b\npath gain from G1 to T1.c\n";
const ideal = { beta: IDEAL_BETA, vbe: 0.7, vt: VT };

describe("the gain by hand", () => {
  const mehta = dividerBias({ supply: 20, r1: 150e3, r2: 20e3, rc: 12e3, re: 2.2e3 });

  it("of Mehta's example 10.14 is 360 bypassed and 5.37 not, as the solved one is", () => {
    // Mehta & Mehta, Principles of Electronics, Ex 10.14 p262: r_e 33.3; A_v 360 and 5.38 (exact 5.373)
    const bypassed = stageIn(
      stagesOf(settle(`${mehta}${driven}capacitor C2 1 F T1.e to chassis\n`, ideal).text),
    );
    expect(bypassed.configuration).toBe("common emitter");
    expectNear(bypassed.hand_gain ?? 0, -360, 2.5e-3);
    expectNear(bypassed.solved_gain ?? 0, -360, 2.5e-3);
    expectNear(bypassed.re_ohms ?? 0, 33.3, 2e-3);
    const plain = stageIn(stagesOf(settle(`${mehta}${driven}`, ideal).text));
    expect(plain.configuration).toBe("degenerated common emitter");
    expect(plain.hand_formula).toBe("−R3/(r_e + R4)");
    expectNear(plain.hand_gain ?? 0, -5.373, 1e-3);
    expectNear(plain.solved_gain ?? 0, -5.373, 1e-3);
  });

  it("of Mehta's example 10.21 is 4.66 with 300 Ω left unbypassed, and the base shows 48.2 kΩ", () => {
    // Mehta Ex 10.21 p268: 10 V, 18k/4.7k, R_C 1.5k, 300 + 900 (bypassed), β 150: A_v 4.66, Z_in(base) 48.2k;
    // the book neglects the base current (2 % of I_E)
    const text = `
battery B1 10 V plus rail minus chassis
resistor R1 18 kohm rail to T1.b
resistor R2 4.7 kohm T1.b to chassis
resistor R3 1.5 kohm rail to T1.c
resistor R4 300 ohm T1.e to tap
resistor R5 900 ohm tap to chassis
capacitor C2 1 F tap to chassis
transistor T1 BOOK
${driven}`;
    const stage = stageIn(stagesOf(settle(text, { ...ideal, beta: 150 }).text));
    expectNear(stage.hand_gain ?? 0, -4.66, 0.01);
    expectNear(stage.solved_gain ?? 0, -4.66, 0.01);
    expectNear(stage.input_ohms ?? 0, 48.2e3, 0.012);
  });

  it("of Mehta's example 13.20 is 0.994 for a follower, and 0.988 is solved once 5 kΩ load it", () => {
    // Mehta Ex 13.20/21 p352: 10 V, 10k/10k, R_E 5k; with R_L 5k; r_e 29.1
    const text = (load: string) => `
battery B1 10 V plus rail minus chassis
resistor R1 10 kohm rail to T1.b
resistor R2 10 kohm T1.b to chassis
resistor R4 5 kohm T1.e to chassis
transistor T1 BOOK c rail
generator G1 1 mV drive to chassis
capacitor C1 1 F drive to T1.b
${load}path out from G1 to T1.e
`;
    const alone = stageIn(stagesOf(settle(text(""), ideal).text));
    expect(alone.configuration).toBe("emitter follower");
    expectWithin(alone.hand_gain ?? 0, 0.994, 0.0005);
    expectWithin(alone.solved_gain ?? 0, 0.994, 0.0005);
    const load = "capacitor C2 1 F T1.e to load\nresistor R5 5 kohm load to chassis\n";
    expectWithin(stageIn(stagesOf(settle(text(load), ideal).text)).solved_gain ?? 0, 0.988, 0.0006);
  });
});

describe("the resistances at the transistor", () => {
  it("of Mehta's example 13.22 give 4.96 kΩ beside the divider", () => {
    // Mehta Ex 13.22 p354: 10 V, 10k/10k, R_E 4.3k, R_L 10k, β 200, V_T 25 mV
    const { text } = settle(
      `
battery B1 10 V plus rail minus chassis
resistor R1 10 kohm rail to T1.b
resistor R2 10 kohm T1.b to chassis
resistor R4 4.3 kohm T1.e to chassis
transistor T1 BOOK c rail
generator G1 1 mV source 100 ohm drive to chassis
capacitor C1 1 F drive to T1.b
capacitor C2 1 F T1.e to load
resistor R5 10 kohm load to chassis
path out from G1 to load
`,
      { beta: 200, vbe: 0.7, vt: VT },
    );
    const { input_ohms = 0 } = stageIn(stagesOf(text));
    expectNear(1 / (1 / input_ohms + 1 / 5000), 4959, 1e-3);
  });

  it("of Mehta's example 13.23 are 22.3 Ω at the emitter", () => {
    // Mehta Ex 13.23 p355: r_e 20, bias 3k ∥ 4.7k, R_s 600, β 200; exact 22.26
    const text = `${hTransistor(1, { hie: 201 * 20, hfe: 200 })}
wire c1 to chassis
resistor R1 3 kohm b1 to chassis
resistor R2 4.7 kohm b1 to chassis
resistor R4 1 Mohm e1 to chassis
generator G1 1 mV source 600 ohm b1 to chassis
path out from G1 to e1
`;
    const stage = stageIn(stagesOf(text));
    expect(stage.configuration).toBe("emitter follower");
    expectNear(stage.output_ohms ?? 0, 22.26, 1e-3);
  });

  it("of Millman's feedback pair, example 13.1, are 112 kΩ at the input and 129 Ω at the output net", () => {
    // Millman & Halkias, Integrated Electronics, Ex 13.1 p481: R_if 112k, R_of 129 (exact 112.15k, 129.03)
    const device = { hie: 1100, hfe: 50 };
    // with 1 F the chokes of the bias are resonant at 0.16 mHz, and the pair would motorboat there
    const two = `${hTransistor(1, device)}${hTransistor(2, device)}`
      .replaceAll(" 1 F ", " 1000 F ")
      .replaceAll(" 1 MH ", " 1 GH ");
    const result = stagesOf(`${two}
resistor R1 100 ohm e1 to chassis
resistor R2 10 kohm c1 to chassis
resistor R3 47 kohm c1 to chassis
resistor R4 33 kohm c1 to chassis
wire c1 to b2
wire e2 to chassis
resistor R5 4.7 kohm c2 to chassis
resistor R6 4.7 kohm c2 to e1
generator G1 1 mV source 1 mohm b1 to chassis
path pair from G1 to c2
`);
    expectNear(stageIn(result, "T1").input_ohms ?? 0, 112.15e3, 1e-3);
    expectNear(stageIn(result, "T2").output_net_ohms ?? 0, 129.03, 1e-3);
    const loop = result.loops.find(({ from, to }) => from.includes("T2") && to.includes("T1"));
    expect(loop?.ac_parts).toEqual(["R6"]);
    // the published A_v 835 and β 1/48 make a loop gain of 17.4
    expectNear(loop?.ac_loop_gain ?? 0, 835 / 48, 0.01);
  });
});

describe("the direct-current loop gain of an emitter resistor", () => {
  it.each([
    // Bhargava, Kulshreshtha & Gupta, Ex 7.13 p246: S 5.07; Mehta Ex 9.23 p219: 18.4, Ex 9.24 p220: 2.94
    {
      name: "Bhargava's example 7.13",
      supply: 12,
      r1: 40e3,
      r2: 5e3,
      rc: 5e3,
      re: 1e3,
      beta: 60,
      vbe: 0.3,
      s: 5.07,
    },
    {
      name: "Mehta's example 9.23",
      supply: 12,
      r1: 150e3,
      r2: 100e3,
      rc: 4.7e3,
      re: 2.2e3,
      beta: 50,
      vbe: 0.7,
      s: 18.4,
    },
    {
      name: "Mehta's example 9.24",
      supply: 15,
      r1: 6e3,
      r2: 3e3,
      rc: 470,
      re: 1e3,
      beta: 100,
      vbe: 0.7,
      s: 2.94,
    },
  ])(
    "gives the stability factor of $name: (1 + β)/(1 + T), without the r_π that books leave out",
    (example) => {
      const { r1, r2, re, beta, vbe, s } = example;
      const { text, chart } = settle(dividerBias(example), { beta, vbe });
      const [loop] = stagesOf(text).loops;
      expect(loop?.dc_parts).toContain("R4");
      const rb = (r1 * r2) / (r1 + r2);
      const input = ROOM / Math.abs(chart.transistors.T1!.ib_amps);
      // T = β·R_E/(R_B + r_π + R_E)
      expectNear(loop?.dc_loop_gain ?? 0, (beta * re) / (rb + input + re), 2e-3);
      const withoutInput = ((loop?.dc_loop_gain ?? 0) * (rb + input + re)) / (rb + re);
      expectNear((1 + beta) / (1 + withoutInput), s, 3e-3);
    },
  );
});

describe("the quiescent current of a pair whose bias does not follow", () => {
  const pair = `type BOOK pnp germanium
    hfe 80 at 5 mA
    vbe 150 mV at 5 mA
    leakage 0.5 µA at 25 °C
    early 1 MV
    rbb 0 ohm
battery B1 9 V plus chassis minus rail
battery B2 150 mV plus chassis minus bias
transformer TR1 magnetising 1 H on primary
    winding primary 100 turns in to chassis
    winding secondary 200 turns T1.b to bias to T2.b
transformer TR2 magnetising 1 H on primary
    winding primary 200 turns T1.c to rail to T2.c
    winding secondary 20 turns speaker to chassis
resistor R1 4 ohm speaker to chassis
generator G1 100 mV source 600 ohm in to chassis
transistor T1 BOOK e chassis
transistor T2 BOOK e chassis
path power from G1 to speaker
`;
  const [currents] = stagesOf(pair).push_pull;
  const at = (points: readonly { at: number; amps?: readonly [number, number] }[] = [], where: number) =>
    points.find((point) => Math.abs(point.at - where) < 1e-9)?.amps ?? [0, 0];

  it("grows by e^(ΔV/V_T) in the half whose V_BE is so much less: 1.08 times for 2 mV, and not in the other", () => {
    // exponential law; 2 mV = × 1.08 is common practice, no source
    const alike = at(currents?.vbe_shift_volts, 0);
    const less = at(currents?.vbe_shift_volts, -0.01);
    expectNear(less[0] / alike[0], Math.exp(0.01 / ROOM), 2e-3);
    expectNear((less[0] / alike[0]) ** 0.2, 1.08, 5e-3);
    expectNear(less[1], alike[1], 1e-6);
  });

  it("about doubles in ten degrees", () => {
    // common practice, no source: × 2.2 by 2 mV/°C at unchanged bias, e^(20/25.7); the law of germanium gives
    // 2.1 to 2.5 mV/°C at these currents
    const warm = at(currents?.ambient_celsius, 30)[0] / at(currents?.ambient_celsius, 20)[0];
    expect(warm).toBeGreaterThan(2);
    expect(warm).toBeLessThan(2.7);
  });

  it("does not hang on hfe where the bias is stiff", () => {
    const [weak] = at(currents?.hfe_share, 0.5);
    const [strong] = at(currents?.hfe_share, 2);
    expectNear(weak, strong, 1e-2);
  });
});
