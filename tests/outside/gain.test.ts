/**
 * Common-emitter gain. Circuits whose books give V_BE and kT/q are solved whole, bias and all, with V_BE and β
 * held at the book's values (book.ts, `settle`); an ambient temperature of 16.96 °C makes kT/q 25 mV.
 * Circuits given by h-parameters take `hTransistor`, biased by ideal means. Coupling and bypass capacitors
 * are a farad; everything is looked at at 1 kHz.
 */
import { describe, expect, it } from "vitest";
import { expectNear, expectWithin, gainOf, impedanceAt, netIn, transistorIn } from "./bench.ts";
import { dividerBias, hTransistor, IDEAL_BETA, settle } from "./book.ts";

const VT = 0.025;
const AUDIO = 1000;
const driven = "generator G1 1 mV drive to chassis\ncapacitor C1 1 F drive to T1.b\n";
const bypass = "capacitor C2 1 F T1.e to chassis\n";
const toCollector = "path stage from G1 to T1.c\n";

describe("a stage with base divider", () => {
  // Mehta & Mehta, Principles of Electronics, Ex 10.14 p262: 20 V, 150k/20k, R_C 12k, R_E 2.2k, V_BE .7,
  // V_T 25 mV
  const mehta = dividerBias({ supply: 20, r1: 150e3, r2: 20e3, rc: 12e3, re: 2.2e3 });
  const ideal = { beta: IDEAL_BETA, vbe: 0.7, vt: VT };

  it("amplifies 360 times with a bypassed emitter in Mehta's example 10.14", () => {
    // printed r_e 33.3, A_v 360; unrounded 0.75134 mA, r_e 33.27, 360.6
    const { text, chart } = settle(`${mehta}${driven}${bypass}`, ideal);
    expectNear(VT / transistorIn(chart).ie, 33.3, 2e-3);
    const { re, im } = gainOf(text + toCollector, AUDIO);
    expectNear(re, -360.64, 1e-4);
    expectNear(re, -360, 2.5e-3);
    expect(Math.abs(im)).toBeLessThan(0.01);
  });

  it("amplifies 5.37 times without the bypass in Mehta's example 10.14", () => {
    // printed 5.38; exact 12k/(2.2k + 33.3) = 5.373
    const { text } = settle(`${mehta}${driven}`, ideal);
    expectNear(gainOf(text + toCollector, AUDIO).re, -5.373, 1e-3);
    expectNear(gainOf(text + toCollector, AUDIO).re, -5.38, 2e-3);
  });

  it("amplifies 80 times at 0.1 mA in Mehta's example 10.16", () => {
    // Mehta Ex 10.16 p263: 9 V, 240k/30k, 20k, 3k: I_E 0.1 mA, r_e 250, A_v 80
    const circuit = dividerBias({ supply: 9, r1: 240e3, r2: 30e3, rc: 20e3, re: 3e3 });
    const { text, chart } = settle(`${circuit}${driven}${bypass}`, ideal);
    expectNear(transistorIn(chart).ie, 0.1e-3, 1e-3);
    expectNear(gainOf(text + toCollector, AUDIO).re, -80, 1e-3);
  });

  it("amplifies 61 times into a 1 kΩ load in Mehta's example 10.17, base current neglected", () => {
    // Mehta Ex 10.17 p264: 15 V, 40k/10k, R_C 2k, R_E 1k bypassed, R_L 1k: 2.3 mA, V_C 10.4, r_e 10.9, A_v
    // 61.2
    const circuit = dividerBias({ supply: 15, r1: 40e3, r2: 10e3, rc: 2e3, re: 1e3 });
    const load = "capacitor C3 1 F T1.c to load\nresistor R9 1 kohm load to chassis\n";
    const { text, chart } = settle(`${circuit}${driven}${bypass}${load}`, ideal);
    expectNear(transistorIn(chart).ie, 2.3e-3, 1e-3);
    expectNear(transistorIn(chart).vc, 10.4, 1e-3);
    expectNear(gainOf(`${text}path stage from G1 to load\n`, AUDIO).re, -61.2, 3e-3);
  });

  it("amplifies 8 % less in Mehta's example 10.17 once β is really 100", () => {
    // the same network by hand: I_E = 2.3/(1k + 8k/101) = 2.131 mA, A_v = α·(2k ∥ 1k)/r_e = 56.27
    const circuit = dividerBias({ supply: 15, r1: 40e3, r2: 10e3, rc: 2e3, re: 1e3 });
    const load = "capacitor C3 1 F T1.c to load\nresistor R9 1 kohm load to chassis\n";
    const { text } = settle(`${circuit}${driven}${bypass}${load}`, { ...ideal, beta: 100 });
    const ie = 2.3 / (1e3 + 8e3 / 101);
    const expected = ((100 / 101) * (2e3 / 3)) / (VT / ie);
    expectNear(gainOf(`${text}path stage from G1 to load\n`, AUDIO).re, -expected, 1e-3);
  });

  it("shows its source 3.46 kΩ in Mehta's example 10.20", () => {
    // Mehta Ex 10.20 p266: 30 V, 45k/15k, 10k, 7.5k, β 200, V_BE neglected (a cell in the emitter lead):
    // 3.45k; exact with r_e 25: 11.25k ∥ 5k = 3.46k. With the base current in the divider I_E is 0.7 %
    // less, and r_π counts β + 1
    const circuit = dividerBias({ supply: 30, r1: 45e3, r2: 15e3, rc: 10e3, re: 7.5e3 }).replace(
      "resistor R4 7.5 kohm T1.e to chassis",
      "resistor R4 7.5 kohm T1.e to foot\nbattery B2 700 mV plus chassis minus foot",
    );
    const { text } = settle(`${circuit}${driven}${bypass}`, { beta: 200, vbe: 0.7, vt: VT });
    const { re } = impedanceAt(text, AUDIO);
    expectNear(re, 3.46e3, 0.012);
    const ie = 7.5 / (7.5e3 + 11.25e3 / 201);
    const base = (201 * VT) / ie;
    expectNear(re, (11.25e3 * base) / (11.25e3 + base), 1e-3);
  });

  it("amplifies 4.66 times with a third of the emitter resistance unbypassed in Mehta's example 10.21", () => {
    // Mehta Ex 10.21 p268: 10 V, 18k/4.7k, R_C 1.5k, 300 + 900 (bypassed), β 150: A_v 4.66, Z_in(base)
    // 48.2k; the book neglects the base current (2 % of I_E, a tenth of that in the gain) and α
    const circuit = `
battery B1 10 V plus rail minus chassis
resistor R1 18 kohm rail to T1.b
resistor R2 4.7 kohm T1.b to chassis
resistor R3 1.5 kohm rail to T1.c
resistor R4 300 ohm T1.e to tap
resistor R5 900 ohm tap to chassis
capacitor C2 1 F tap to chassis
transistor T1 BOOK
${driven}`;
    const neglected = settle(circuit, { ...ideal, beta: IDEAL_BETA }).text;
    expectNear(gainOf(neglected + toCollector, AUDIO).re, -4.66, 1e-3);
    const { text } = settle(circuit, { ...ideal, beta: 150 });
    expectNear(gainOf(text + toCollector, AUDIO).re, -4.66, 0.01);
    const whole = impedanceAt(text, AUDIO).re;
    const divider = (18e3 * 4.7e3) / 22.7e3;
    expectNear(1 / (1 / whole - 1 / divider), 48.2e3, 0.012);
  });

  it("shows its source 1.33 kΩ bypassed and 1.74 kΩ partly bypassed in Mehta's examples 10.23 and 10.24", () => {
    // Mehta Ex 10.23/24 p269: 10 V, 10k/2.2k, R_C 4k, R_E 1.1k bypassed or 210 + 900, β 200, r_e 25: Z_in
    // 1.33k, 1.74k; A_v 160, 17. The base current, neglected there, makes r_e 25.1
    const circuit = (emitter: string) => `
battery B1 10 V plus rail minus chassis
resistor R1 10 kohm rail to T1.b
resistor R2 2.2 kohm T1.b to chassis
resistor R3 4 kohm rail to T1.c
${emitter}
transistor T1 BOOK
${driven}`;
    const book = { beta: 200, vbe: 0.7, vt: VT };
    const full = settle(
      circuit("resistor R4 1.1 kohm T1.e to chassis\ncapacitor C2 1 F T1.e to chassis"),
      book,
    );
    expectNear(transistorIn(full.chart).ie, 1e-3, 0.01);
    expectNear(gainOf(full.text + toCollector, AUDIO).re, -160, 0.015);
    expectNear(impedanceAt(full.text, AUDIO).re, 1.33e3, 0.01);
    const part = settle(
      circuit(
        "resistor R4 210 ohm T1.e to tap\nresistor R5 900 ohm tap to chassis\ncapacitor C2 1 F tap to chassis",
      ),
      book,
    );
    expectNear(gainOf(part.text + toCollector, AUDIO).re, -17, 0.01);
    expectNear(impedanceAt(part.text, AUDIO).re, 1.74e3, 0.01);
  });
});

describe("a stage by h-parameters", () => {
  // Millman & Halkias, Integrated Electronics, Ex 8.2 p251
  const millman = { hie: 1100, hre: 2.5e-4, hfe: 50, hoe: 25e-6 };
  const grounded = "wire e1 to chassis\n";

  it("has the gains −400, from the source −200, and 1.0 kΩ input of Millman's example 8.2", () => {
    // h_ie 1100, h_re 2.5e-4, h_fe 50, h_oe 25 µS, R_L 10k, R_s 1k: A_i −40, R_i 1.0k, A_v −400, A_vs −200;
    // all exact
    const text = (source: number) => `${hTransistor(1, millman)}${grounded}
generator G1 1 mV source ${source} ohm b1 to chassis
resistor R1 10 kohm c1 to chassis
`;
    const path = "path stage from G1 to c1\n";
    expectNear(impedanceAt(text(0), AUDIO).re, 1000, 1e-3);
    expectNear(gainOf(text(0) + path, AUDIO).re, -400, 1e-3);
    expectNear(gainOf(text(1000) + path, AUDIO).re, -200, 1e-3);
    // the current gain: through the load over what the generator delivers
    const out = gainOf(`${text(0)}path load from G1 to R1 current\n`, AUDIO).re;
    expectNear(out * impedanceAt(text(0), AUDIO).re, -40, 1e-3);
  });

  it("has the output resistance 52.5 kΩ of Millman's example 8.2", () => {
    // Ex 8.2: with R_s 1k and without the load
    const text = `${hTransistor(1, millman)}${grounded}
generator G1 1 mV c1 to chassis
resistor R1 1 kohm b1 to chassis
`;
    expectWithin(impedanceAt(text, AUDIO).re, 52.5e3, 0.05e3);
  });

  it("has the gain −12.8 from the source of Millman's example 8.10, with 200 kΩ from collector to base", () => {
    // Millman & Halkias (other edition) Ex 8.10 p260: same device, R_C 10k, source 10k: R_i' 345, A_v −383,
    // A_vs −12.8, by Miller's theorem, which leaves out what the 200k feeds forward: under 1 %
    const text = (source: number) => `${hTransistor(1, millman)}${grounded}
generator G1 1 mV source ${source} ohm b1 to chassis
resistor R1 10 kohm c1 to chassis
resistor R2 200 kohm c1 to b1
`;
    const path = "path stage from G1 to c1\n";
    expectNear(gainOf(text(0) + path, AUDIO).re, -383, 0.01);
    expectNear(impedanceAt(text(0), AUDIO).re, 345, 0.01);
    expectNear(gainOf(text(1e4) + path, AUDIO).re, -12.8, 0.01);
  });

  it("agrees with a nodal solution by hand for Millman's example 8.10", () => {
    // y-parameters of the device and two nodal equations
    const { hie, hre, hfe, hoe } = millman;
    const y12 = -hre / hie;
    const y21 = hfe / hie;
    const y22 = hoe - (hre * hfe) / hie;
    const g = 1 / 200e3;
    const gain = -(y21 - g) / (y22 + 1e-4 + g);
    const input = 1 / hie + g + (y12 - g) * gain;
    const text = `${hTransistor(1, millman)}${grounded}
generator G1 1 mV source 10 kohm b1 to chassis
resistor R1 10 kohm c1 to chassis
resistor R2 200 kohm c1 to b1
path stage from G1 to c1
`;
    expectNear(gainOf(text, AUDIO).re, (gain * 1e-4) / (1e-4 + input), 1e-4);
  });

  it("amplifies −121.7 times in common emitter plus follower, with 133.6 Ω at the output, as in Millman's example 8.6", () => {
    // Millman & Halkias Ex 8.6 p257: h_ie 2k, h_fe 50, R_C 5k, R_E2 5k, R_s 5k: R_i2 257k, A_v1 −122.6;
    // exact A_v −121.66, A_vs −34.76, Z_o 133.6 (with R_C 5k as the follower's source)
    const device = { hie: 2000, hfe: 50 };
    const text = (source: number) => `${hTransistor(1, device)}${hTransistor(2, device)}
wire e1 to chassis
wire c1 to b2
wire c2 to chassis
generator G1 1 mV source ${source} ohm b1 to chassis
resistor R1 5 kohm c1 to chassis
resistor R2 5 kohm e2 to chassis
`;
    expectNear(gainOf(`${text(0)}path first from G1 to c1\n`, AUDIO).re, -122.6, 1e-3);
    expectNear(gainOf(`${text(0)}path both from G1 to e2\n`, AUDIO).re, -121.66, 1e-3);
    expectNear(gainOf(`${text(5000)}path both from G1 to e2\n`, AUDIO).re, -34.76, 1e-3);
    const back = text(5000)
      .replace("generator G1 1 mV source 5000 ohm b1 to chassis", "resistor R3 5 kohm b1 to chassis")
      .concat("generator G1 1 mV e2 to chassis\n");
    expectNear(impedanceAt(back, AUDIO).re, 133.6, 1e-3);
  });

  it("amplifies 12 541 times in the two RC-coupled stages of Bhargava's example 9.4", () => {
    // Bhargava, Kulshreshtha & Gupta, Ex 9.4 p325: h_fe 120, h_ie 1.1k; 6.8k; dividers 56k/5.6k; 3.3k ∥
    // 2.2k: Z_i 0.905k, Z_o 1.32k, A 12535 (the book rounds 798 Ω); exact 12541
    const device = { hie: 1100, hfe: 120 };
    const text = `${hTransistor(1, device)}${hTransistor(2, device)}
wire e1 to chassis
wire e2 to chassis
resistor R1 56 kohm b1 to chassis
resistor R2 5.6 kohm b1 to chassis
resistor R3 6.8 kohm c1 to chassis
resistor R4 56 kohm b2 to chassis
resistor R5 5.6 kohm b2 to chassis
wire c1 to b2
resistor R6 3.3 kohm c2 to chassis
resistor R7 2.2 kohm c2 to chassis
`;
    const forward = `${text}generator G1 1 mV b1 to chassis\n`;
    expectNear(gainOf(`${forward}path both from G1 to c2\n`, AUDIO).re, 12541, 1e-3);
    expectWithin(impedanceAt(forward, AUDIO).re, 905, 0.5);
    const back = `${text}generator G1 1 mV c2 to chassis\n`;
    expectWithin(impedanceAt(back, AUDIO).re, 1320, 5);
  });

  it("falls 3 dB at the 39.8 Hz that 0.4 µF couples in Chattopadhyay's example 9-2", () => {
    // Chattopadhyay & Rakshit Ex 9-2 p215: h_fe 100, h_ie 2k, C_c 0.4 µF, R_L 8k: f_L = 1/(2π·C_c·(R_L +
    // h_ie)) = 39.8 Hz
    const device = { hie: 2000, hfe: 100 };
    const text = `${hTransistor(1, device)}${hTransistor(2, device)}
wire e1 to chassis
wire e2 to chassis
generator G1 1 mV b1 to chassis
resistor R1 8 kohm c1 to chassis
capacitor C1 400 nF c1 to b2
resistor R9 1 Gohm b2 to chassis
resistor R2 8 kohm c2 to chassis
path both from G1 to c2
`;
    const middle = gainOf(text, 1e5).db;
    expectNear(gainOf(text, 1e5).re, ((100 * 100 * 1600) / 2000 / 2000) * 8000, 1e-3);
    expectWithin(middle - gainOf(text, 39.79).db, 3.01, 0.02);
  });
});

describe("the dissipation of a class A stage", () => {
  it("sits at 17.5 V and 18 mA with 315 mW in Mehta's example 12.13", () => {
    // Mehta & Mehta Ex 12.13 p320: transformer-coupled, V_CC 17.5, I_C 18 mA, I_B 0.18 mA, β 100, P_dc 315
    // mW, n 3, R_L 81.6
    const { chart } = settle(
      `
battery B1 17.5 V plus rail minus chassis
transformer TR1 magnetising 10 H on primary
    winding primary 300 turns rail to T1.c
    winding secondary 100 turns load to chassis
resistor R1 81.6 ohm load to chassis
battery B2 1000 V plus high minus chassis
resistor R2 ${(1000 - 0.3) / 0.18e-3} ohm high to T1.b
transistor T1 BOOK e chassis
`,
      { beta: 100, vbe: 0.3 },
    );
    expectNear(transistorIn(chart).ic, 18e-3, 1e-3);
    expectNear(transistorIn(chart).dissipation_watts, 0.315, 1e-3);
    expectWithin(netIn(chart, "load"), 0, 1e-9);
  });

  it("sees 735 Ω through the transformer of 3 to 1 in Mehta's example 12.13", () => {
    // Ex 12.13: n 3 (exact 3.002 for 735.3 Ω); 9·81.6 = 734.4
    const text = `
generator G1 1 mV drive to chassis
transformer TR1 magnetising 10 kH on primary
    winding primary 300 turns dcr 1 µohm drive to chassis
    winding secondary 100 turns load to chassis
resistor R1 81.6 ohm load to chassis
`;
    expectNear(impedanceAt(text, 1000).re, 734.4, 1e-3);
    expectNear(impedanceAt(text, 1000).re, 735.3, 2e-3);
  });
});
