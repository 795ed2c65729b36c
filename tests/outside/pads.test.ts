/** Resistive pads: Bird, Electrical Circuit Theory and Technology, ch. 41. Looked at at 1 kHz. */
import { describe, it } from "vitest";
import { expectNear, expectWithin, gainOf, impedanceAt, ohms } from "./bench.ts";

const AUDIO = 1000;
const source = "generator G1 1 mV in to chassis\n";

/** T section of `series` in both arms and `shunt`. */
const tee = (series: number, shunt: number, from = "in", to = "out", n = 1) => `
resistor R${n}1 ${ohms(series)} ${from} to mid${n}
resistor R${n}2 ${ohms(series)} mid${n} to ${to}
resistor R${n}3 ${ohms(shunt)} mid${n} to chassis
`;

describe("a π section of 500 Ω and twice 1000 Ω", () => {
  const pi = `${source}
resistor R1 500 ohm in to out
resistor R2 1 kohm in to chassis
resistor R3 1 kohm out to chassis
`;

  it("has the characteristic impedance 447 Ω and loses 8.36 dB", () => {
    // Bird ch. 41
    const terminated = `${pi}resistor R4 447.2136 ohm out to chassis\n`;
    expectWithin(impedanceAt(terminated, AUDIO).re, 447, 0.5);
    expectNear(impedanceAt(terminated, AUDIO).re, 447.2136, 1e-6);
    expectWithin(gainOf(`${terminated}path pad from G1 to out\n`, AUDIO).db, -8.36, 0.005);
  });

  it("has that impedance also as the root of its open and its shorted impedance", () => {
    // Bird ch. 41: Z0 = √(Z_oc·Z_sc)
    const open = impedanceAt(pi, AUDIO).re;
    const shorted = impedanceAt(`${pi}wire out to chassis\n`, AUDIO).re;
    expectNear(Math.sqrt(open * shorted), 447.2136, 1e-6);
  });
});

describe("a T pad for 600 Ω", () => {
  it("loses 20 dB with 491 Ω and 121.5 Ω", () => {
    // Bird ch. 41 prints 491 and 121.5; exact 490.91 and 121.21: 0.02 dB
    const text = `${source}${tee(491, 121.5)}resistor R4 600 ohm out to chassis\n`;
    expectWithin(gainOf(`${text}path pad from G1 to out\n`, AUDIO).db, -20, 0.03);
    expectNear(impedanceAt(text, AUDIO).re, 600, 2e-3);
  });

  it("takes 20 mV down to 6.32 µV in five sections of 14 dB", () => {
    // Bird ch. 41: five identical sections, 70 dB; section values by R1 = Z0·(N − 1)/(N + 1), R2 =
    // 2·Z0·N/(N² − 1)
    const n = 10 ** (14 / 20);
    const [series, shunt] = [(600 * (n - 1)) / (n + 1), (1200 * n) / (n * n - 1)];
    const nets = ["in", "n1", "n2", "n3", "n4", "out"];
    const sections = [0, 1, 2, 3, 4].map((k) => tee(series, shunt, nets[k], nets[k + 1], k + 1)).join("");
    const text = `${source}${sections}resistor R9 600 ohm out to chassis\npath pads from G1 to out\n`;
    expectWithin(gainOf(text, AUDIO).magnitude * 20e-3, 6.32e-6, 0.005e-6);
  });
});

describe("an L pad from 500 Ω to 100 Ω", () => {
  // Bird ch. 41: 447.2 and 111.8 Ω, 12.54 dB, insertion loss 9.98 dB
  const pad = `${source.replace("1 mV", "1 mV source 500 ohm")}
resistor R1 447.2136 ohm in to out
resistor R2 111.8034 ohm out to chassis
resistor R3 100 ohm out to chassis
path pad from G1 to out
`;

  it("matches both ends and loses 12.54 dB of power", () => {
    const seen = impedanceAt(pad.replace("source 500 ohm", "").replace(/^path.*$/m, ""), AUDIO).re;
    expectNear(seen, 500, 1e-6);
    const gain = gainOf(pad, AUDIO).magnitude;
    // power delivered to 100 Ω over what the source gives a matched load, V²/(4·500)
    expectWithin(10 * Math.log10(gain ** 2 / 100 / (1 / 2000)), -12.54, 0.005);
  });

  it("has an insertion loss of 9.98 dB", () => {
    const direct = gainOf(
      "generator G1 1 mV source 500 ohm out to chassis\nresistor R3 100 ohm out to chassis\npath direct from G1 to out\n",
      AUDIO,
    );
    expectWithin(direct.db - gainOf(pad, AUDIO).db, 9.98, 0.008); // 9.986
  });
});
