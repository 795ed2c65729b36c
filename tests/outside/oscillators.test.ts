/**
 * Oscillators of textbooks, with the ideal stages of their formulae: a transconductance that neither loads what
 * drives it nor feeds back, and a resistor at its collector. At the gain where the growth is nil the natural
 * frequency is the book's.
 */
import { describe, expect, it } from "vitest";
import type { Steady } from "../../src/bench/oscillation/results.ts";
import { oscillation } from "../../src/bench/oscillation.ts";
import { naturalFrequencies, pencilOf } from "../../src/engine/natural-frequencies.ts";
import { network } from "../../src/engine/network.ts";
import { isSolved, operatingPoint } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { circuitOf, crossing, expectNear, expectWithin, farads, henries, ohms, quantity } from "./bench.ts";
import { BOLTZMANN, ELEMENTARY_CHARGE } from "./physics.ts";

interface Natural {
  readonly hertz: number;
  readonly growth: number;
}

/** The swinging natural frequency of `text` nearest to `near`. */
function naturalNear(text: string, near: number): Natural {
  const circuit = circuitOf(text);
  const point = operatingPoint(network(circuit, { ambientCelsius: 25, isothermal: true }));
  if (!isSolved(point)) throw new Error("no operating point");
  const all = naturalFrequencies(pencilOf(new SmallSignal(point)))
    .filter(({ s }) => s.im > 0)
    .map(({ s }) => ({ hertz: s.im / (2 * Math.PI), growth: s.re }));
  const away = ({ hertz }: Natural) => Math.abs(Math.log(hertz / near));
  return all.reduce((a, b) => (away(b) < away(a) ? b : a));
}

/** The gain between `low` and `high` at which the oscillation near `hertz` neither grows nor dies, and its frequency. */
function threshold(circuit: (gain: number) => string, low: number, high: number, hertz: number) {
  const gain = crossing(low, high, (tried) => naturalNear(circuit(tried), hertz).growth);
  return { gain, hertz: naturalNear(circuit(gain), hertz).hertz };
}

/** kT/q at 25 °C, V. */
const THERMAL = (BOLTZMANN * 298.15) / ELEMENTARY_CHARGE;

/**
 * Transistor `n` as a transconductance of `gain` over the resistor `load` at its collector, with an input
 * resistance of `input`: base bias at the V_BE of its sheet, coupled to the nets b`n` and c`n` by millifarads.
 */
const stage = (n: number, gain: number, load: number, input = 1e10): string => `
type I${n} npn silicon
    hfe ${(gain / load) * input} at 1 mA
    vbe 600 mV at ${quantity((gain / load) * THERMAL, "A")}
    leakage 1 pA at 25 °C
    rbb 0 ohm
    early 1 GV
    ccb 0 pF at 1 V
    ft 1000000 GHz at 1 mA
transistor T${n} I${n} e chassis
battery B${n} 50 V plus supply${n} minus chassis
battery B${n}0 600 mV plus base${n} minus chassis
inductor L${n}00 1 MH base${n} to T${n}.b
resistor RL${n} ${ohms(load)} supply${n} to T${n}.c
capacitor C${n}00 1000 µF T${n}.b to b${n}
capacitor C${n}01 1000 µF T${n}.c to c${n}
resistor RH${n} 100G c${n} to chassis
resistor RG${n} 100G b${n} to chassis
`;

describe("the tank of an oscillator with a loss at the collector", () => {
  // Colpitts, C1 from collector and C2 from base to emitter: f = 1/2π√(L·C1·C2/(C1 + C2)), gain ≥ C2/C1
  const colpitts = (c1: number, c2: number, l: number) => (gain: number) =>
    `
${stage(1, gain, 20e3)}
capacitor C1 ${farads(c1)} c1 to chassis
capacitor C2 ${farads(c2)} b1 to chassis
inductor L1 ${henries(l)} c1 to b1
`;

  it.each([
    [100e-12, 500e-12, 40e-3, 87.2e3, 0.05e3],
    [1e-9, 10e-9, 15e-6, 1.362e6, 0.002e6],
    [0.1e-6, 1e-6, 470e-6, 24.35e3, 0.01e3],
    [300e-12, 100e-12, 50e-6, 2.6e6, 0.05e6],
  ])("of Colpitts, %d F and %d F with %d H, swings at %d Hz from a gain of C2/C1", (c1, c2, l, hertz, by) => {
    const found = threshold(colpitts(c1, c2, l), 0.5 * (c2 / c1), 2 * (c2 / c1), hertz);
    expectWithin(found.hertz, hertz, by);
    expectNear(found.gain, c2 / c1, 2e-3);
    expectNear(found.hertz, 1 / (2 * Math.PI * Math.sqrt((l * c1 * c2) / (c1 + c2))), 1e-4);
  });

  // Hartley, L1 from collector and L2 from base to emitter: f = 1/2π√(C·(L1 + L2 + 2M)), gain ≥ (L1 + M)/(L2 + M)
  const hartley = (l1: number, l2: number, m: number, c: number) => (gain: number) =>
    `
${stage(1, gain, 20e3)}
transformer TR1 magnetising ${henries(l1)} coupling ${m / Math.sqrt(l1 * l2)}
    winding collector 1000 turns c1 to chassis
    winding base ${1000 * Math.sqrt(l2 / l1)} turns chassis to b1
capacitor C1 ${farads(c)} c1 to b1
`;

  it.each([
    [1000e-6, 100e-6, 20e-6, 20e-12, 1.054e6, 0.0005e6],
    [4.7e-3, 47e-6, 0, 1e-9, 73.05e3, 0.01e3],
    [20e-3, 5e-3, 0, 500e-12, 45.02e3, 0.01e3],
  ])("of Hartley, %d H and %d H with M %d H and %d F, swings at %d Hz", (l1, l2, m, c, hertz, by) => {
    const wanted = (l1 + m) / (l2 + m);
    const found = threshold(hartley(l1, l2, m, c), 0.5 * wanted, 2 * wanted, hertz);
    expectWithin(found.hertz, hertz, by);
    expectNear(found.gain, wanted, 2e-3);
  });
});

describe("the tuned collector oscillator", () => {
  it("swings at 1200.4 kHz with 58.6 µH and 300 pF", () => {
    // Bhargava 13.1, Mehta 14.1 (1199 kHz in the book, by rounding)
    const circuit = (gain: number) => `
${stage(1, gain, 100e3)}
transformer TR1 magnetising 58.6 µH
    winding tank 100 turns c1 to chassis
    winding base 1 turns chassis to b1
capacitor C1 300 pF c1 to chassis
`;
    const found = threshold(circuit, 20, 500, 1.2e6);
    expectNear(found.hertz, 1200.4e3, 1e-4);
    expectNear(found.gain, 100, 1e-3); // what the turns take away
  });
});

describe("the phase-shift oscillator", () => {
  const ladder = (r: number, c: number, last = r) => `
capacitor C1 ${farads(c)} c1 to n1
resistor R1 ${ohms(r)} n1 to chassis
capacitor C2 ${farads(c)} n1 to n2
resistor R2 ${ohms(r)} n2 to chassis
capacitor C3 ${farads(c)} n2 to n3
${last > 0 ? `resistor R3 ${ohms(last)} n3 to chassis` : ""}
`;

  it.each([
    [10e3, 10e-9, 649.75],
    [10e3, 1e-9, 6497.5],
    [1e6, 68e-12, 955.5],
    [1e3, 100e-9, 649.75], // Fiore: transfer −1/29 at ω = 4082 rad/s
  ])("of %d Ω and %d F, not loaded, needs a gain of 29 and swings at %d Hz", (r, c, hertz) => {
    const circuit = (gain: number) => `${stage(1, gain, r * 1e-5)}${ladder(r, c)}wire n3 to b1\n`;
    const found = threshold(circuit, 25, 33, hertz);
    expectNear(found.gain, 29, 1e-3);
    expectNear(found.hertz, hertz, 2e-4);
  });

  it("with one transistor needs hfe 74.6 and swings at 9831 Hz in Kakani's example 12.2", () => {
    // hfe = 23 + 29·R/Rc + 4·Rc/R, f = 1/(2πC√(6R² + 4R·Rc)) (the book's own figure for f is wrong)
    const hie = 1100;
    const circuit = (hfe: number) => `
${stage(1, (hfe / hie) * 3300, 3300, hie)}
${ladder(5600, 1e-9, 0)}
resistor R3 ${ohms(5600 - hie)} n3 to b1
`;
    const found = threshold(circuit, 60, 90, 9831);
    expectNear(found.gain, 74.569, 1e-4);
    expectNear(found.hertz, 9831.1, 1e-5);
  });
});

describe("the Wien bridge oscillator", () => {
  it.each([
    [220e3, 250e-12, 2893.7],
    [51e3, 1e-9, 3120.7],
    [1e3, 100e-9, 1591.5],
    [6e3, 100e-9, 265.3],
  ])("of %d Ω and %d F needs a gain of 3 and swings at %d Hz", (r, c, hertz) => {
    const circuit = (gain: number) => `
${stage(1, 1, r * 1e-5)}
${stage(2, gain, r * 1e-5)}
wire c1 to b2
resistor R1 ${ohms(r)} c2 to series
capacitor C1 ${farads(c)} series to b1
resistor R2 ${ohms(r)} b1 to chassis
capacitor C2 ${farads(c)} b1 to chassis
`;
    const found = threshold(circuit, 2.8, 3.3, hertz);
    expectNear(found.gain, 3, 1e-3);
    expectNear(found.hertz, hertz, 2e-4);
    expect(naturalNear(circuit(3.1), hertz).growth).toBeGreaterThan(0);
    expect(naturalNear(circuit(2.9), hertz).growth).toBeLessThan(0);
  });
});

/** Modified Bessel functions of the first kind, by their series. */
function bessel(order: 0 | 1, x: number): number {
  let term = order === 0 ? 1 : x / 2;
  let sum = term;
  for (let k = 1; k < 60; k++) {
    term *= (x * x) / 4 / (k * (k + order));
    sum += term;
  }
  return sum;
}

describe("the steady swing", () => {
  /**
   * Emitter current held, tank of Q 100 at the collector, a winding back to the emitter's base. Clarke & Hess,
   * Communication Circuits (1971): the large-signal transconductance is gm·2·I1(x)/(x·I0(x)) with x = V/(kT/q),
   * from memory; the swing is where it makes the loop gain 1.
   */
  it.each([1.2, 2, 4])(
    "of a stage with held emitter current is Clarke and Hess's at a loop gain of %d",
    (loop) => {
      const amps = 1e-3;
      const turns = 20;
      const load = (loop * turns * THERMAL) / amps;
      const l = load / 100 / (2 * Math.PI * 100e3);
      const c = 1 / ((2 * Math.PI * 100e3) ** 2 * l);
      const text = `
type IN npn silicon
    hfe 1000000000 at 1 mA
    vbe 600 mV at 1 mA
    leakage 1 pA at 25 °C
    rbb 0 ohm
    early 1 GV
    ccb 0 pF at 1 V
    ft 1000000 GHz at 1 mA
transistor T1 IN
battery B1 10 V plus supply minus chassis
battery B2 1000 V plus chassis minus minus
resistor R1 ${ohms((1000 - 0.6) / amps)} T1.e to minus
capacitor C2 100 µF T1.e to chassis
transformer TR1 magnetising ${henries(l)}
    winding tank ${1000} turns T1.c to supply
    winding base ${1000 / turns} turns chassis to T1.b
capacitor C1 ${farads(c)} T1.c to supply
resistor R2 ${ohms(load)} T1.c to supply
`;
      const { results } = oscillation(circuitOf(text), {});
      const steady = results[0]!.growing[0]!.steady as Steady;
      const x = crossing(0.01, 30, (tried) => (2 * bessel(1, tried)) / (tried * bessel(0, tried)) - 1 / loop);
      expectNear(steady.nets["T1.c"]!.volts_peak, x * THERMAL * turns, 2e-3);
      expectNear(steady.hertz, 100e3, 1e-3);
    },
  );
});
