/**
 * Thermal runaway. Condition: θ·∂P_C/∂T < 1 (Millman & Halkias, Integrated Electronics, ch. 9.9). Where the
 * dissipation grows with temperature as exp(c·ΔT), T_J − T_A = θ·P has a solution only while
 * θ ≤ 1/(e·c·P_A), P_A the dissipation at ambient, and the junction is then 1/c above ambient: the tangent
 * case of the condition.
 */
import { describe, expect, it } from "vitest";
import { voltages } from "../../src/bench/voltages.ts";
import { chartOf, circuitOf, expectNear, expectWithin, ohms, transistorIn } from "./bench.ts";
import { bookChart } from "./book.ts";

const DOUBLING = 9;

/** A PNP transistor with nothing but its leakage of 1 mA, straight across 10 V: P at ambient 10 mW. */
const leaking = (rth: number, pins: string) => `
type LEAKY pnp germanium
    hfe 60 at 1 mA
    vbe 300 mV at 1 mA
    leakage 1 mA at 25 °C
    doubling ${DOUBLING} K
    rbb 0 ohm
    early 1 MV
    rth ${rth} K/W
battery B1 10 V plus chassis minus T1.c
transistor T1 LEAKY ${pins}
`;
const SHORTED = "e chassis b chassis";
const growth = Math.LN2 / DOUBLING;
const limit = 1 / (Math.E * growth * 10e-3);

describe("a leaking collector junction straight across the supply", () => {
  it("settles when θ is half a percent inside the tangent limit, its junction just under 1/c = 13 K above ambient", () => {
    const t1 = transistorIn(chartOf(leaking(0.995 * limit, SHORTED)));
    expect(t1.junction_celsius).toBeLessThan(25 + 1 / growth);
    expect(t1.junction_celsius).toBeGreaterThan(25 + 0.88 / growth);
    expectNear(t1.junction_celsius - 25, 0.995 * limit * t1.dissipation_watts, 1e-6);
  });

  it("runs away when θ is half a percent outside the tangent limit, and the report names the transistor", () => {
    const { results, failures } = voltages(circuitOf(leaking(1.005 * limit, SHORTED)));
    expect(results).toHaveLength(0);
    expect(failures).toHaveLength(1);
    expect(failures[0]).toMatchObject({ kind: "thermal runaway", part: "T1" });
    expect(failures[0]?.message).toContain("T1");
  });

  it("settles outside the limit once junctions are held at ambient", () => {
    const t1 = transistorIn(chartOf(leaking(2 * limit, SHORTED), { isothermal: true }));
    expect(t1.junction_celsius).toBe(25);
    expectNear(t1.ic, 1e-3, 1e-3);
  });

  it("runs away inside the limit of 25 °C when the ambient is one doubling warmer", () => {
    const inside = circuitOf(leaking(0.6 * limit, SHORTED));
    expect(voltages(inside).failures).toHaveLength(0);
    const { failures } = voltages(inside, { ambientCelsius: 25 + DOUBLING });
    expect(failures[0]).toMatchObject({ kind: "thermal runaway", part: "T1" });
  });

  it("settles at any θ behind a resistor that leaves less than half the supply, where more current means less heat", () => {
    // Millman & Halkias: if V_CE < V_CC/2 the bracket V_CC − 2·I_C·R_C is negative and runaway impossible
    const text = leaking(20 * limit, SHORTED).replace("minus T1.c", "minus rail");
    const t1 = transistorIn(chartOf(`${text}resistor R1 100 kohm rail to T1.c\n`));
    expect(t1.vce).toBeLessThan(5);
  });
});

describe("a transistor with open base", () => {
  // I_CEO = (1 + β)·I_CBO; β grows as (T/T0)^1.5 in the model: the limit is the least of (T − T_A)/P(T)
  const current = (kelvin: number) =>
    (1 + 60 * (kelvin / 298.15) ** 1.5) * 20e-6 * 2 ** ((kelvin - 298.15) / DOUBLING);
  const rises = Array.from({ length: 4000 }, (_, k) => (k + 1) / 100);
  const greatest = Math.max(...rises.map((rise) => rise / (10 * current(298.15 + rise))));
  const open = (rth: number) => leaking(rth, "e chassis").replace("leakage 1 mA", "leakage 20 µA");

  it("settles half a percent inside the limit that the growth of I_CEO sets and runs away half a percent outside", () => {
    const t1 = transistorIn(chartOf(open(0.995 * greatest)));
    expect(t1.junction_celsius).toBeLessThan(25 + 13);
    const { failures } = voltages(circuitOf(open(1.005 * greatest)));
    expect(failures[0]).toMatchObject({ kind: "thermal runaway", part: "T1" });
  });
});

describe("Millman's example 9.6", () => {
  // Millman & Halkias Ex 9.6 p326 (germanium PNP): −40 V, R_E 5k, R_C 10k, β 100, I_CO −5 µA, I_C −1 mA,
  // base fed by R_B, V_BE neglected: R_B about 7 MΩ, V_CE 25 V, S 94.3, θ < 3.03 °C/mW with I_CO growing 7
  // % a degree
  const VBE = 0.3;
  const circuit = (rb: number) => `
battery B1 40 V plus chassis minus rail
resistor R1 ${ohms(rb)} rail to lead
battery B2 ${VBE} V plus lead minus T1.b
resistor R3 10 kohm rail to T1.c
resistor R4 5 kohm T1.e to chassis
transistor T1 BOOK
`;
  // I_B = (1 mA − 101·5 µA)/100; the rest of 40 V over it
  const base = (1e-3 - 101 * 5e-6) / 100;
  const rb = (40 - 5e3 * (1e-3 + base)) / base;
  const at = (leakage: number, resistor = rb) =>
    transistorIn(bookChart(circuit(resistor), { device: "pnp", beta: 100, vbe: VBE, leakage }));

  it("draws 1 mA at 25 V with the base resistor of about 7 MΩ", () => {
    const t1 = at(5e-6); // 7.07 MΩ
    expectNear(t1.ic, 1e-3, 1e-3);
    expectNear(t1.vce, 25, 2e-3);
  });

  it("has the stability factor 94.3", () => {
    expectWithin((at(5.1e-6).ic - at(5e-6).ic) / 0.1e-6, 94.3, 0.05); // 94.27 for exactly 7 MΩ
  });

  it("allows θ of 3.03 °C/mW, by the growth of the dissipation with 7 % of I_CO", () => {
    // the book leaves the base current out of the emitter resistor: 1 %
    const warmer = 0.1;
    const rise = at(5e-6 * (1 + 0.07 * warmer)).dissipation_watts - at(5e-6).dissipation_watts;
    expectNear(warmer / rise, 3031, 0.01);
  });

  it("loses heat with growing I_CO when V_CE is below half the supply", () => {
    // a base resistor for 1.6 mA: V_CE about 16 V of 40 V
    const low = (leakage: number) => at(leakage, 3e6);
    expect(low(5e-6).vce).toBeLessThan(20);
    expect(low(6e-6).dissipation_watts).toBeLessThan(low(5e-6).dissipation_watts);
  });
});

describe("dissipation and junction temperature", () => {
  const heated = (watts: number, kelvinPerWatt: number) => `
type POWER npn silicon
    hfe 1000000 at 1 A
    vbe 700 mV at 1 A
    leakage 1 pA at 25 °C
    rbb 0 ohm
    early 1 MV
    rth ${kelvinPerWatt} K/W
battery B1 1000 V plus T1.c minus chassis
battery B2 1000 V plus chassis minus low
resistor R1 ${ohms(1e3 / (watts / 1e3))} T1.e to low
transistor T1 POWER b chassis
`;
  const at = (watts: number, kelvinPerWatt: number, ambientCelsius: number) =>
    transistorIn(chartOf(heated(watts, kelvinPerWatt), { ambientCelsius })).junction_celsius;

  it("puts a junction at 90 °C with 4 W, 10 K/W and 50 °C around it, as in Mehta's example 12.15", () => {
    // Mehta & Mehta Ex 12.15; 1000 V hold P at 4 W to 0.2 % whatever V_BE does
    expectWithin(at(4, 10, 50), 90, 0.1);
  });

  it("puts a junction at 90 °C with 200 mW at 300 K/W or 1000 mW at 60 K/W and 30 °C, as in Mehta's example 12.16", () => {
    // Mehta & Mehta Ex 12.16
    expectWithin(at(0.2, 300, 30), 90, 0.1);
    expectWithin(at(1, 60, 30), 90, 0.1);
  });

  it("puts a junction at 45 °C with 2 W at 10 K/W and 25 °C, as in Kakani's example 6.1", () => {
    // Kakani & Bhandari Ex 6.1
    expectWithin(at(2, 10, 25), 45, 0.05);
  });
});
