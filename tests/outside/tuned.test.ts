/**
 * Resonant circuits, phase-shift networks, notches and traps, as far as an AC sweep shows them. The
 * resonance of a tank is where the impedance that the generator sees is real; of two capacitors or coils in
 * series between the ends of the other, the tank as the oscillator has it. Where direct current has no other
 * way, a gigohm holds the net; where it has no resistance, a microhm limits it.
 */
import { describe, expect, it } from "vitest";
import {
  chartOf,
  crossing,
  expectNear,
  expectWithin,
  farads,
  gainOf,
  henries,
  impedanceAt,
  ohms,
  transistorIn,
} from "./bench.ts";
import { hTransistor } from "./book.ts";

/** Frequency where the impedance of `text` is real, looked for between 0.7 and 1.4 times `near`. */
const resonance = (text: string, near: number): number =>
  crossing(0.7 * near, 1.4 * near, (hertz) => impedanceAt(text, hertz).im);

const source = "generator G1 1 mV tank to chassis\n";

/** Parallel tank of a coil with resistance and a capacitor. */
const tank = (l: number, r: number, c: number) => `${source}
inductor L1 ${henries(l)} dcr ${ohms(r)} tank to chassis
capacitor C1 ${farads(c)} tank to chassis
`;

describe("a coil with resistance across a capacitor", () => {
  // Bird, Electrical Circuit Theory and Technology: f_r = (1/2π)·√(1/LC − R²/L²), R_D = L/(C·R), Q = ωL/R
  it("resonates at 4490.3 Hz with 2000 Ω in Bird's example 29.1", () => {
    // Bird Ex 29.1 p521: 5 mH with 10 Ω, 0.25 µF: Q 14.1
    const text = tank(5e-3, 10, 0.25e-6);
    const f = resonance(text, 4490);
    expectNear(f, 4490.3, 2e-5);
    expectNear(impedanceAt(text, f).re, 2000, 1e-6);
    expectWithin((2 * Math.PI * f * 5e-3) / 10, 14.1, 0.05);
  });

  it("resonates at 63.66 Hz with 166.7 Ω in Bird's example 16.9, far below 1/√(LC)", () => {
    // Bird Ex 16.9: 200 mH, 60 Ω, 20 µF: Q 1.33
    const text = tank(0.2, 60, 20e-6);
    expectWithin(resonance(text, 63.66), 63.66, 0.01);
    expectWithin(impedanceAt(text, 63.66).re, 166.7, 0.05);
  });

  it("is tuned to 5 kHz by 9.515 nF with 13.14 kΩ in Bird's example 16.10", () => {
    // Bird Ex 16.10: 100 mH, 800 Ω: Q 3.93
    const text = tank(0.1, 800, 9.515e-9);
    expectNear(resonance(text, 5000), 5000, 2e-4);
    expectWithin(impedanceAt(text, 5000).re, 13.14e3, 0.01e3);
  });

  it("is tuned to 4 kHz by 13.16 nF with 60.79 kΩ in Bird's example 29.3", () => {
    // Bird Ex 29.3 p523: 120 mH, 150 Ω: Q 20.1
    const text = tank(0.12, 150, 13.16e-9);
    expectNear(resonance(text, 4000), 4000, 3e-4);
    expectWithin(impedanceAt(text, resonance(text, 4000)).re, 60.79e3, 0.02e3);
  });

  it("traps 150 kHz with 30.0 kΩ, 500 Hz wide, and 11.54 kΩ at 0.4 % off tune in Bird's example 29.7", () => {
    // Bird Ex 29.7 p527 (like a bias trap): 10.61 nF, bandwidth 500 Hz, Q 300: R_D = Q/ωC = 30.0k; ours
    // keeps the coil's resistance in series, so that the trap is tuned to the impedance that is real
    const c = 10.61e-9;
    const omega = 2 * Math.PI * 150e3;
    const reactance = 1 / (omega * c);
    const text = tank(reactance / omega, reactance / 300, c);
    const f = resonance(text, 150e3);
    expectNear(f, 150e3, 1e-5);
    expectWithin(impedanceAt(text, f).magnitude, 30.0e3, 0.05e3);
    expectNear(impedanceAt(text, f * 1.004).magnitude, 11.54e3, 5e-3);
    const half = impedanceAt(text, f).magnitude / Math.SQRT2;
    const above = crossing(f, f * 1.01, (hertz) => impedanceAt(text, hertz).magnitude - half);
    const below = crossing(f * 0.99, f, (hertz) => impedanceAt(text, hertz).magnitude - half);
    expectNear(above - below, 500, 5e-3);
  });

  it("peaks at 1.45 MHz and is 252 kHz wide as the load of Chattopadhyay's example 9-7", () => {
    // Chattopadhyay & Rakshit Ex 9-7 p217: 120 µH with 10 Ω, 100 pF, h_oe 50 µS, h_fe 100, h_ie 2.5k, R_T
    // 10k
    const text = `${hTransistor(1, { hie: 2500, hfe: 100, hoe: 50e-6 })}
wire e1 to chassis
generator G1 1 mV b1 to chassis
inductor L1 120 µH dcr 10 ohm c1 to chassis
capacitor C1 100p c1 to chassis
resistor R1 10 kohm c1 to chassis
path stage from G1 to c1
`;
    const gain = (hertz: number) => gainOf(text, hertz).magnitude;
    const f = crossing(1e6, 2e6, (hertz) => gainOf(text, hertz).im);
    expectWithin(f, 1.45e6, 0.005e6);
    const load = 1 / (10 / (120e-6 / 100e-12) + 50e-6 + 1e-4);
    expectNear(gain(f), (100 / 2500) * load, 1e-3);
    const edge = gain(f) / Math.SQRT2;
    const above = crossing(f, 1.5 * f, (hertz) => gain(hertz) - edge);
    const below = crossing(0.6 * f, f, (hertz) => gain(hertz) - edge);
    expectWithin(above - below, 252e3, 1e3);
  });
});

describe("tanks of oscillators", () => {
  it("resonate at 50.33 kHz in Chattopadhyay's tuned-collector example", () => {
    // Chattopadhyay & Rakshit ch. 11 Ex 1 p263: 50 mH, 200 pF, coil 50 Ω: 50.3 (exact 50.329) kHz
    const f = resonance(tank(50e-3, 50, 200e-12), 50e3);
    expectWithin(f, 50.329e3, 0.002e3);
    expectWithin(f, 50.3e3, 0.05e3);
  });

  it("resonate at 1200.4 kHz with 58.6 µH and 300 pF, printed as 1199 kHz", () => {
    // Bhargava Ex 13.1 = Mehta Ex 14.1
    expectNear(resonance(tank(58.6e-6, 1e-6, 300e-12), 1.2e6), 1200.4e3, 1e-4);
    expectNear(resonance(tank(58.6e-6, 1e-6, 300e-12), 1.2e6), 1199e3, 2e-3);
  });

  const hartley = (l1: number, l2: number, mutual: number, c: number) => {
    // two windings in series aiding: L ∝ turns², M = coupling·√(L1·L2)
    const turns = [1000, 1000 * Math.sqrt(l2 / l1)];
    return `${source}
transformer TR1 magnetising ${henries(l1)} on upper coupling ${mutual / Math.sqrt(l1 * l2)}
    winding upper ${turns[0]} turns dcr 1 µohm tank to tap
    winding lower ${turns[1]} turns dcr 1 µohm tap to chassis
capacitor C1 ${farads(c)} tank to chassis
`;
  };

  it("resonate at 1.054 MHz in Hartley's circuit with 1000 µH and 100 µH, 20 µH mutual, and 20 pF", () => {
    // textbook example (Hartley): L1 + L2 + 2M = 1140 µH
    expectWithin(resonance(hartley(1e-3, 100e-6, 20e-6, 20e-12), 1.054e6), 1.054e6, 0.0005e6);
  });

  it("resonate at 73.05 kHz and 45.02 kHz in Hartley's circuit with uncoupled coils", () => {
    // textbook examples: 4.7 mH + 47 µH, 1 nF; 20 + 5 mH, 500 pF
    expectWithin(resonance(hartley(4.7e-3, 47e-6, 0, 1e-9), 73e3), 73.05e3, 0.005e3);
    expectWithin(resonance(hartley(20e-3, 5e-3, 0, 500e-12), 45e3), 45.02e3, 0.005e3);
  });

  it("resonate at 168 kHz in Bakshi's Hartley design", () => {
    // Bakshi: 168 kHz, 50 pF, L1 15 mH, M 5 µH: L_eq 17.95 mH, L2 2.945 mH (17.95 − 15 − 0.01 = 2.94)
    expectNear(resonance(hartley(15e-3, 2.945e-3, 5e-6, 50e-12), 168e3), 168e3, 1e-3);
  });

  const colpitts = (c1: number, c2: number, l: number) => `${source}
inductor L1 ${henries(l)} dcr 1 µohm tank to chassis
capacitor C1 ${farads(c1)} tank to tap
capacitor C2 ${farads(c2)} tap to chassis
resistor R1 1 Gohm tap to chassis
`;

  it.each([
    // textbook examples (Colpitts)
    ["1.362 MHz with 1 nF and 10 nF across 15 µH", 1e-9, 10e-9, 15e-6, 1.362e6, 0.001e6], // printed cut off, not rounded
    ["24.35 kHz with 100 nF and 1 µF across 470 µH", 0.1e-6, 1e-6, 470e-6, 24.35e3, 0.005e3],
    ["87.2 kHz with 100 pF and 500 pF across 40 mH", 100e-12, 500e-12, 40e-3, 87.2e3, 0.05e3],
    ["118 kHz with 50 pF and 500 pF across 40 mH", 50e-12, 500e-12, 40e-3, 118e3, 0.5e3],
    ["2.36 MHz with 1 nF and 10 nF across 5 µH", 1e-9, 10e-9, 5e-6, 2.36e6, 0.005e6],
    ["2.6 MHz with 300 pF and 100 pF across 50 µH", 300e-12, 100e-12, 50e-6, 2.6e6, 0.005e6],
  ] as const)("resonate in Colpitts' circuit at %s", (_, c1, c2, l, published, digit) => {
    expectWithin(resonance(colpitts(c1, c2, l), published), published, digit);
  });

  it("resonate at 734.5 kHz in Clapp's circuit, where the 100 pF decides", () => {
    // textbook example (Clapp): .1 µF, 1 µF, 100 pF in series with 470 µH
    const text = `${source}
inductor L1 470 µH dcr 1 µohm tank to chassis
capacitor C3 100p tank to a
capacitor C1 100n a to b
capacitor C2 1µ b to chassis
resistor R1 1 Gohm a to chassis
resistor R2 1 Gohm b to chassis
`;
    expectWithin(resonance(text, 734.5e3), 734.5e3, 0.2e3); // 734.45 kHz with the capacitors as given
  });
});

describe("phase-shift networks", () => {
  const ladder = (r: number, c: number) => `generator G1 1 mV a to chassis
capacitor C1 ${farads(c)} a to b
resistor R1 ${ohms(r)} b to chassis
capacitor C2 ${farads(c)} b to d
resistor R2 ${ohms(r)} d to chassis
capacitor C3 ${farads(c)} d to out
resistor R3 ${ohms(r)} out to chassis
path ladder from G1 to out
`;

  it("of three equal RC sections turn the phase over with −1/29 at 649.75 Hz for 1 kΩ and 0.1 µF, as Fiore computes", () => {
    // Fiore (open text): ω 4082 rad/s (exact 4082.48), transfer −1/29
    const text = ladder(1e3, 0.1e-6);
    const f = crossing(500, 800, (hertz) => gainOf(text, hertz).im);
    expectWithin(2 * Math.PI * f, 4082.48, 0.01);
    expectWithin(f, 649.75, 0.005);
    expectNear(gainOf(text, f).re, -1 / 29, 1e-6);
  });

  it("turn it over at 955.5 Hz with 1 MΩ and 68 pF, and at 6497 Hz with 10 kΩ and 1 nF", () => {
    // textbook examples: printed 954 (exact 955.5), 6497 Hz; gain needed 29
    expectWithin(
      crossing(700, 1300, (hertz) => gainOf(ladder(1e6, 68e-12), hertz).im),
      955.5,
      0.05,
    );
    expectWithin(
      crossing(5000, 8000, (hertz) => gainOf(ladder(1e4, 1e-9), hertz).im),
      6497,
      1,
    );
  });

  it("close Kakani's one-transistor loop with gain 1 at 9831 Hz and h_fe 74.57", () => {
    // Kakani & Bhandari Ex 12.2 p588: R_C 3.3k, R 5.6k, C 1 nF (third R includes h_ie): h_fe ≥ 23 + 29R/R_C
    // + 4R_C/R, printed 75; f = 1/(2πC√(6R² + 4R·R_C)) = 9831.1 Hz (the book's own f is wrong). The loop is
    // opened at the base: a second h_ie stands for it
    const hie = 1100;
    const loop = (hfe: number) => `${hTransistor(1, { hie, hfe })}
wire e1 to chassis
generator G1 1 mV b1 to chassis
resistor R1 3.3 kohm c1 to chassis
capacitor C1 1n c1 to a
resistor R2 5.6 kohm a to chassis
capacitor C2 1n a to b
resistor R3 5.6 kohm b to chassis
capacitor C3 1n b to d
resistor R4 ${5600 - hie} ohm d to base
resistor R5 ${hie} ohm base to chassis
path loop from G1 to base
`;
    const f = crossing(8000, 12000, (hertz) => gainOf(loop(74.569), hertz).im);
    expectWithin(f, 9831.1, 0.3);
    expectNear(gainOf(loop(74.569), f).re, 1, 2e-4);
    expect(gainOf(loop(70), f).re).toBeLessThan(1);
  });

  const wien = (r: number, c: number) => `generator G1 1 mV a to chassis
resistor R1 ${ohms(r)} a to b
capacitor C1 ${farads(c)} b to out
resistor R2 ${ohms(r)} out to chassis
capacitor C2 ${farads(c)} out to chassis
path bridge from G1 to out
`;

  it.each([
    // textbook examples (Wien bridge): printed 2892 (exact 2893.7), 3120.7, 1591.5, 265.3 Hz; gain needed 3
    ["2893.7 Hz with 220 kΩ and 250 pF", 220e3, 250e-12, 2893.7, 0.05],
    ["3120.7 Hz with 51 kΩ and 1 nF", 51e3, 1e-9, 3120.7, 0.05],
    ["1591.5 Hz with 1 kΩ and 100 nF", 1e3, 100e-9, 1591.5, 0.05],
    ["265.3 Hz with 6 kΩ and 100 nF", 6e3, 100e-9, 265.3, 0.06],
  ] as const)("of Wien pass a third in phase at %s", (_, r, c, published, digit) => {
    const text = wien(r, c);
    const f = crossing(published * 0.7, published * 1.4, (hertz) => gainOf(text, hertz).im);
    expectWithin(f, published, digit);
    expectNear(gainOf(text, f).re, 1 / 3, 1e-6);
  });
});

describe("a twin-T", () => {
  const twin = (r: number, c: number) => `generator G1 1 mV in to chassis
resistor R1 ${ohms(r)} in to a
resistor R2 ${ohms(r)} a to out
capacitor C1 ${farads(2 * c)} a to chassis
capacitor C2 ${farads(c)} in to b
capacitor C3 ${farads(c)} b to out
resistor R3 ${ohms(r / 2)} b to chassis
resistor R4 1 Gohm out to chassis
path notch from G1 to out
`;

  it("stops 60 Hz with 26.53 kΩ and 100 nF in Franco's example 3.14", () => {
    // Franco, Design with Operational Amplifiers, Ex 3.14 p141: R 26.53k, R/2 13.26k, C 100 nF ×2, 2C
    const text = twin(26.53e3, 100e-9);
    expect(gainOf(text, 1 / (2 * Math.PI * 26.53e3 * 100e-9)).db).toBeLessThan(-80);
    expect(gainOf(text, 60).db).toBeLessThan(-80);
    expectNear(gainOf(text, 6).magnitude, gainOf(text, 600).magnitude, 1e-3);
  });

  it("stops 7.96 kHz with 2 kΩ and 10 nF in Grob's figure 26-5", () => {
    // Grob, Basic Electronics, 26.5: R1 1k, C1 .01 µF, 2R1, 2C1: f = 1/(4π·R1·C1)
    const text = twin(2e3, 10e-9);
    const f = 1 / (4 * Math.PI * 1e3 * 10e-9);
    expectWithin(f, 7.96e3, 0.005e3);
    expect(gainOf(text, f).db).toBeLessThan(-90);
  });

  it("is 3 dB down four times f apart: at f·(√5 ± 2)", () => {
    // closed form of the unloaded twin-T: H = (1 − x²)/(1 − x² + 4jx); |H|² = ½ at x = √5 ± 2
    const f = 1 / (2 * Math.PI * 10e3 * 10e-9);
    const text = twin(10e3, 10e-9);
    for (const x of [Math.sqrt(5) - 2, Math.sqrt(5) + 2]) {
      expectWithin(gainOf(text, x * f).db, -3.0103, 0.001);
    }
  });
});

describe("the operating point of a tuned stage", () => {
  it("is that of the same stage with a wire for the coil and nothing for the capacitor", () => {
    // common practice, no source: at direct current a coil is its resistance, a capacitor is open
    const type = "type GE pnp germanium\n    hfe 60 at 1 mA\n";
    const stage = (load: string) => `${type}battery B1 9 V plus chassis minus rail
resistor R1 56k rail to T1.b
resistor R2 10k T1.b to chassis
resistor R3 1k T1.e to chassis
${load}
transistor T1 GE
`;
    const tuned = chartOf(stage("inductor L1 2 mH dcr 12 ohm rail to T1.c\ncapacitor C1 3n3 rail to T1.c"));
    const plain = chartOf(stage("resistor R4 12 ohm rail to T1.c"));
    expectNear(transistorIn(tuned).ic, transistorIn(plain).ic, 1e-9);
    expectNear(transistorIn(tuned).vc, transistorIn(plain).vc, 1e-9);
  });
});
