/** Constants, junctions and their temperatures against published figures. */
import { describe, expect, it } from "vitest";
import { chartOf, expectNear, expectWithin, gainOf, ohms, quantity, transistorIn } from "./bench.ts";
import { thermalVoltage } from "./physics.ts";

/** A transistor whose emitter draws next to 1 mA from 1 kV, whatever its V_BE; the collector at 5 V. */
const grounded = (type: string) => `
type TR npn ${type}
battery B1 5 V plus T1.c minus chassis
battery B2 1000 V plus chassis minus low
resistor R1 1 Mohm T1.e to low
transistor T1 TR b chassis
`;

describe("the transconductance", () => {
  const silicon = "silicon\n    hfe 100 at 1 mA\n    leakage 1 pA\n    rbb 0 ohm\n    early 1 GV";
  const thermal = (celsius: number) => {
    const t1 = transistorIn(chartOf(grounded(silicon), { ambientCelsius: celsius }));
    return t1.ic / t1.gm_siemens;
  };

  it.each([
    // kT/q with k and e of CODATA 2018 (exact), mV
    [16.85, 24.9903],
    [20, 25.2617],
    [25, 25.6926],
    [26.85, 25.852],
    [27, 25.8649],
  ])("is I_C over kT/q: at %f °C over %f mV", (celsius, millivolts) => {
    expectWithin(thermal(celsius) * 1e3, millivolts, 0.00006);
  });

  it.each([
    // the same, as rounded in tables of transistor books
    [0, 23.54],
    [20, 25.26],
    [25, 25.69],
    [40, 26.99],
    [60, 28.71],
    [75, 30.0],
  ])("is I_C over the tabled kT/q at %f °C, %f mV", (celsius, millivolts) => {
    expectWithin(thermal(celsius) * 1e3, millivolts, 0.0051);
  });
});

describe("V_BE of germanium against current", () => {
  // computed: V_T·ln(I/Is + 1) with Is 2 µA at 25 °C
  const TABLE = [
    [10e-6, 46],
    [0.1e-3, 101],
    [0.3e-3, 129],
    [1e-3, 160],
    [3e-3, 188],
    [10e-3, 219],
  ] as const;
  const volts = (amps: number, saturation: number) => thermalVoltage(25) * Math.log1p(amps / saturation);

  it("is 46 to 219 mV from 10 µA to 10 mA for Is of 2 µA, in a transistor with its collector on its base", () => {
    for (const [amps, millivolts] of TABLE) {
      const chart = chartOf(`
type GE npn germanium
    hfe 100000 at 1 mA
    vbe ${quantity(volts(1e-3, 2e-6), "V")} at 1 mA
    rbb 0 ohm
battery B1 10 kV plus high minus chassis
resistor R1 ${ohms((1e4 - millivolts / 1e3) / amps)} high to T1.c
wire T1.b to T1.c
transistor T1 GE e chassis
`);
      expectWithin(transistorIn(chart).vbe * 1e3, millivolts, 0.51);
    }
  });

  it("is 46 to 219 mV in a diode with the same saturation current", () => {
    for (const [amps, millivolts] of TABLE) {
      const chart = chartOf(`
type GE diode germanium
    vf ${quantity(volts(1e-3, 2e-6), "V")} at 1 mA
battery B1 10 kV plus high minus chassis
resistor R1 ${ohms((1e4 - millivolts / 1e3) / amps)} high to D1.anode
diode D1 GE anode D1.anode cathode chassis
`);
      expectWithin(chart.parts.D1!.volts * 1e3, millivolts, 0.51);
    }
  });

  it("lies 18 mV higher for Is of 1 µA and 23 mV lower for 5 µA", () => {
    // computed, above the knee of the logarithm
    const at = (saturation: number) => {
      const chart = chartOf(`
type GE diode germanium
    vf ${quantity(volts(1e-3, saturation), "V")} at 1 mA
battery B1 10 kV plus high minus chassis
resistor R1 1 Mohm high to D1.anode
diode D1 GE anode D1.anode cathode chassis
`);
      return chart.parts.D1!.volts * 1e3;
    };
    expectWithin(at(1e-6) - at(2e-6), 18, 0.3);
    expectWithin(at(5e-6) - at(2e-6), -23, 0.6);
  });
});

describe("a germanium diode in J. B. Gupta's examples", () => {
  // the book's V_T of 26 mV: an ideality of 26/25.6926 at 25 °C
  const ideality = 26e-3 / thermalVoltage(25);
  const type = (saturation: number) => `type GE diode germanium
    vf ${quantity(0.026 * Math.log1p(1e-3 / saturation), "V")} at 1 mA
    ideality ${ideality}
`;

  it("passes 15 µA at 0.12 V with 0.15 µA of saturation current, example 4.1", () => {
    // J. B. Gupta, Ex 4.1 p103
    const chart = chartOf(`${type(0.15e-6)}
battery B1 120 mV plus D1.anode minus chassis
diode D1 GE anode D1.anode cathode chassis
`);
    expectWithin(chart.parts.D1!.amps, 15e-6, 0.1e-6); // 15.0 to three digits: 15.01 µA
  });

  it("has 11.86 Ω at 200 mV with 1 µA of saturation current, example 4.5", () => {
    // J. B. Gupta, Ex 4.5 p107: r = V_T/(I0·e^(V/V_T))
    const { re } = gainOf(
      `${type(1e-6)}
battery B1 200 mV plus lift minus chassis
generator G1 1 mV D1.anode to lift
diode D1 GE anode D1.anode cathode chassis
path slope from G1 to D1 current
`,
      1,
    );
    expectNear(1 / re, 11.86, 1e-3);
  });
});

describe("the temperature coefficient of V_BE", () => {
  const slope = (millivolts: number) => {
    const text = `
type GE npn germanium
    hfe 100000 at 1 mA
    vbe ${millivolts} mV at 1 mA
    rbb 0 ohm
battery B1 10 kV plus high minus chassis
resistor R1 10 Mohm high to T1.c
wire T1.b to T1.c
transistor T1 GE e chassis
`;
    const at = (ambientCelsius: number) => transistorIn(chartOf(text, { ambientCelsius })).vbe * 1e3;
    return at(25.5) - at(24.5);
  };

  it("of germanium is (V − Eg − 3·V_T)/T for the band gap of 0.67 eV and the cube of T in Is", () => {
    // formula of Nandi, Advance Semiconductor Devices, Ex 2.11.4 p2-79, (V − V_G0 − m·V_T)/T, with the
    // model's own 0.67 V and m = 3; holds well above V_T
    for (const millivolts of [150, 200, 250]) {
      const expected = (millivolts - 670 - 3 * thermalVoltage(25) * 1e3) / 298.15;
      expectNear(slope(millivolts), expected, 5e-3);
    }
  });

  it("of germanium lies between −1.6 and −2.5 mV/K from 0.1 to 0.25 V, as published figures do", () => {
    // Nandi Ex 2.11.4: −2.08 mV/K at .2 V with V_G0 .785 V and m 1.5 at 300 K; computed so:
    // −2.41/−2.25/−2.08/−1.91 at .10/.15/.20/.25 V. With the model's 0.67 V and m = 3 the figures are 0.25
    // mV/K smaller: hence 13 %, no digit
    const published = [
      [100, -2.41],
      [150, -2.25],
      [200, -2.08],
      [250, -1.91],
    ] as const;
    for (const [millivolts, perKelvin] of published) {
      expect(slope(millivolts)).toBeGreaterThan(-2.5);
      expect(slope(millivolts)).toBeLessThan(-1.6);
      expectNear(slope(millivolts), perKelvin, 0.14);
    }
  });
});

describe("leakage against temperature", () => {
  /** I_CBO: emitter open, collector at 6 V through an ohm. */
  const icbo = (leakage: string, doubling: number, ambientCelsius: number) =>
    chartOf(
      `
type GE npn germanium
    hfe 60 at 1 mA
    vbe 300 mV at 1 mA
    leakage ${leakage}
    doubling ${doubling} K
    rbb 0 ohm
battery B1 6 V plus rail minus chassis
resistor R1 1 ohm rail to T1.c
resistor R2 1 Gohm T1.e to T1.b
transistor T1 GE b chassis
`,
      { ambientCelsius },
    ).parts.R1!.amps;

  it.each([
    // computed: 2^((T − 25)/10) and 2^((T − 25)/8)
    [15, 0.5, 0.42],
    [35, 2, 2.38],
    [45, 4, 5.66],
    [55, 8, 13.5],
    [75, 32, 76],
  ])(
    "at %f °C is %f times that at 25 °C for doubling in 10 K and %f times for doubling in 8 K",
    (celsius, ten, eight) => {
      expectNear(icbo("10 µA at 25 °C", 10, celsius) / icbo("10 µA at 25 °C", 10, 25), ten, 3e-3);
      expectNear(icbo("10 µA at 25 °C", 8, celsius) / icbo("10 µA at 25 °C", 8, 25), eight, 8e-3);
    },
  );

  it("goes from 5 to 90 µA between 25 and 80 °C with 13.2 K per doubling, the limits of the 2N404 sheet", () => {
    // 2N404 data sheet (cedist.com): ≤ 5 µA, ≤ 90 µA at 80 °C
    expectNear(icbo("5 µA at 25 °C", 13.19, 80), 90e-6, 5e-3);
  });

  it("grows 4.27 times from 20 to 40 °C in the open-base current of a measured transistor whose hFE goes from 69 to 79", () => {
    // vero-p2p.blogspot.com 2024-01-21: I_CEO 75 → 320 µA, about 20 → 40 °C, hFE 69 → 79. The model's hFE
    // follows T^1.5: 76, 4 % low; the doubling of I_CBO that goes with the measured I_CEO is then 10.4 K
    const rise = (70 * 1.1045) / 70;
    const doubling = (20 * Math.LN2) / Math.log(320 / 75 / rise);
    const text = `
type GE npn germanium
    hfe ${69 / (293.15 / 298.15) ** 1.5} at 1 mA
    vbe 300 mV at 1 mA
    leakage ${75 / 70} µA at 20 °C
    doubling ${doubling} K
    rbb 0 ohm
    early 1 MV
battery B1 6 V plus rail minus chassis
resistor R1 1 ohm rail to T1.c
transistor T1 GE e chassis
resistor R2 1 Gohm T1.b to chassis
`;
    // a gigohm from the base takes a fraction of a nanoampere of I_CBO
    const at = (ambientCelsius: number) => chartOf(text, { ambientCelsius }).parts.R1!.amps;
    expectNear(at(20), 75e-6, 0.01);
    expectNear(at(40), 320e-6, 0.01);
  });
});
