/**
 * Thermistors by the B law, against manufacturers' tables. The resistance is read as 1 V over the current at
 * each ambient temperature.
 */
import { describe, expect, it } from "vitest";
import { chartOf, expectNear, expectWithin, netIn } from "./bench.ts";

const circuit = (thermistor: string) => `
battery B1 1 V plus top minus chassis
thermistor TH1 ${thermistor} top to chassis
`;
const resistanceAt = (thermistor: string, celsius: number): number =>
  1 / chartOf(circuit(thermistor), { ambientCelsius: celsius }).parts.TH1!.amps;

/** °C, R/R25 of Amphenol's material type 1, the same by the B law of 3977 K (computed). */
const MATERIAL_1 = [
  [-40, 33.36, 41.21],
  [-30, 17.61, 20.43],
  [-20, 9.681, 10.71],
  [-10, 5.525, 5.895],
  [0, 3.264, 3.39],
  [10, 1.99, 2.027],
  [20, 1.249, 1.255],
  [25, 1, 1],
  [30, 0.8056, 0.8025],
  [40, 0.5325, 0.5279],
  [50, 0.3601, 0.3563],
  [60, 0.2487, 0.2463],
  [70, 0.1751, 0.1739],
  [80, 0.1256, 0.1253],
  [85, 0.107, 0.107],
  [90, 0.09155, 0.09186],
  [100, 0.06781, 0.06849],
  [110, 0.05095, 0.05186],
  [125, 0.03403, 0.03508],
  [135, 0.0264, 0.02746],
] as const;
const TEN_K = "10k bvalue 3977 K";

describe("a thermistor of B 3977 K", () => {
  // Amphenol Thermometrics, material type 1, Rev. C Nov 2014 (dtsheet.com/doc/1784717): β(25/85) 3977 K
  it("follows the B law from −40 to 135 °C to the digits printed", () => {
    for (const [celsius, , law] of MATERIAL_1) {
      expectNear(resistanceAt(TEN_K, celsius) / 10e3, law, 4e-4 + 5e-5 / law);
    }
  });

  it("agrees with the maker's table to 1.1 % between 20 and 100 °C, B being taken at 25 and 85 °C", () => {
    for (const [celsius, ratio] of MATERIAL_1) {
      if (celsius < 20 || celsius > 100) continue;
      expectNear(resistanceAt(TEN_K, celsius) / 10e3, ratio, 0.0115);
    }
    expectNear(resistanceAt(TEN_K, 85) / 10e3, 0.107, 5e-3);
  });

  it("lies 3.9 % above the maker's table at 0 °C and 23.5 % at −40 °C, where one B no longer fits", () => {
    // the error column computed from the table: a limit of the B law, not of the solution
    expectWithin(resistanceAt(TEN_K, 0) / 10e3 / 3.264 - 1, 0.0386, 0.0005);
    expectWithin(resistanceAt(TEN_K, -40) / 10e3 / 33.36 - 1, 0.2354, 0.0005);
    expectWithin(resistanceAt(TEN_K, 125) / 10e3 / 0.03403 - 1, 0.0308, 0.0005);
  });

  it("meets the maker's ratios over other spans with the B of that span", () => {
    // the same sheet: β(0/50) 3892, ratio 9.07; β(0/70) 3917, 18.64; β(25/50) 3937, 2.78; β(25/100) 3992,
    // 14.75; β(25/125) 4013, 29.39
    const spans = [
      [3892, 0, 50, 9.07],
      [3917, 0, 70, 18.64],
      [3937, 25, 50, 2.78],
      [3977, 25, 85, 9.35],
      [3992, 25, 100, 14.75],
      [4013, 25, 125, 29.39],
    ] as const;
    for (const [b, low, high, ratio] of spans) {
      const thermistor = `10k bvalue ${b} K`;
      expectNear(resistanceAt(thermistor, low) / resistanceAt(thermistor, high), ratio, 3e-3);
    }
  });

  it("has Vishay's 32.56 kΩ at 0 °C with the B of 0 to 25 °C, and 4 % more with that of 25 to 85 °C", () => {
    // Vishay BCcomponents 2322 640 / NTCLE100E3, doc 29049: 10 kΩ type, 32.56 kΩ at 0 °C; B(0/25) =
    // ln(3.256)/(1/273.15 − 1/298.15)
    const b = Math.log(3.256) / (1 / 273.15 - 1 / 298.15);
    expectNear(resistanceAt(`10k bvalue ${b.toFixed(3)} K`, 0), 32.56e3, 1e-5);
    expectNear(resistanceAt("10k bvalue 3977 K", 0), 32.56e3, 0.045);
  });

  it("falls 4.4 to 4.5 % a kelvin at 25 °C", () => {
    // Amphenol: TC −4.39 %/K at 25 °C; by the B law B/T² = 4.47 %/K
    const slope = (resistanceAt(TEN_K, 24.9) - resistanceAt(TEN_K, 25.1)) / 0.2 / 10e3;
    expectWithin(slope, 0.0447, 0.0001);
    expectNear(slope, 0.0439, 0.025);
  });
});

describe("a thermistor given at another temperature", () => {
  it("is 9.79 kΩ at 7 °C from 10.69 kΩ at 5 °C, as TDK interpolates its curve 1006", () => {
    // EPCOS/TDK standardised R/T: R5 10.6873 kΩ, α5 4.4 %/K: exponent (α/100)·T²·(1/T − 1/T5) = −0.08737
    // prints R(7 °C) = 9.7932 kΩ; our B is α·T5²/100 = 3404.17 K
    const b = (4.4 / 100) * 278.15 ** 2;
    expectNear(resistanceAt(`10.6873 kohm at 5 °C bvalue ${b.toFixed(4)} K`, 7), 9793.2, 2e-5);
  });

  it("has the value stated at the temperature stated, and B in between", () => {
    // definition of the B law: B = ln(R1/R2)/(1/T1 − 1/T2)
    const cold = resistanceAt("130R at 20 °C bvalue 3000 K", 20);
    const hot = resistanceAt("130R at 20 °C bvalue 3000 K", 50);
    expectNear(cold, 130, 1e-12);
    expectNear(Math.log(cold / hot) / (1 / 293.15 - 1 / 323.15), 3000, 1e-9);
  });
});

describe("a thermistor in a bias divider", () => {
  it("holds the base voltage lower when warm", () => {
    // protom.org/micon/0150: a 2SB187 pair at 3 V has a thermistor with 330 Ω, fed through 2k; B 3000 K
    // assumed
    const bias = `battery B1 3 V plus chassis minus rail
resistor R1 2k rail to bias
resistor R2 330R bias to chassis
thermistor TH1 250R bvalue 3000 K bias to chassis
`;
    const at = (celsius: number) => netIn(chartOf(bias, { ambientCelsius: celsius }), "bias");
    const parallel = (celsius: number) => {
      const th = 250 * Math.exp(3000 * (1 / (celsius + 273.15) - 1 / 298.15));
      return 1 / (1 / th + 1 / 330);
    };
    for (const celsius of [0, 25, 50]) {
      expectNear(at(celsius), (-3 * parallel(celsius)) / (2000 + parallel(celsius)), 1e-12);
    }
    expect(at(50)).toBeGreaterThan(at(25));
  });
});
