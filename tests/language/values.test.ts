import { describe, expect, it } from "vitest";
import { readQuantity, writeValue } from "../../src/language/index.ts";
import type { AnyUnit } from "../../src/language/units.ts";
import { around, errors, marked, said } from "./reading.ts";

const value = (text: string, unit: AnyUnit) => {
  const found = readQuantity(text, unit);
  return typeof found === "number" ? found : `refused: ${found.message}`;
};

describe("A resistance is read", () => {
  it.each([
    ["4k7", 4700],
    ["470R", 470],
    ["0R47", 0.47],
    ["R47", 0.47],
    ["4R7", 4.7],
    ["2M2", 2.2e6],
    ["4K7", 4700],
    ["47K", 47e3],
    ["1G", 1e9],
    ["4.7 kΩ", 4700],
    ["4.7kohm", 4700],
    ["4.7 k", 4700],
    ["4,7k", 4700],
    ["470", 470],
    ["470 ohm", 470],
    ["470Ω", 470],
    ["470\u2126", 470],
    ["20 mohm", 0.02],
    ["4k7 ohm", 4700],
    ["1e3", 1000],
    [".5k", 500],
  ])("%s as %d Ω", (text, ohms) => expect(value(text, "ohm")).toBe(ohms));
});

describe("A capacitance is read", () => {
  it.each([
    ["100n", 100e-9],
    ["4µ7", 4.7e-6],
    ["4u7", 4.7e-6],
    ["4\u03bc7", 4.7e-6],
    ["2p2", 2.2e-12],
    ["p33", 0.33e-12],
    ["µ33", 0.33e-6],
    ["u33", 0.33e-6],
    ["4m7", 4.7e-3],
    ["3n9", 3.9e-9],
    ["100 µF", 100e-6],
    ["100uF", 100e-6],
    ["0.1 µF", 0.1e-6],
    ["0,1µ", 0.1e-6],
    ["22nF", 22e-9],
    ["4n7F", 4.7e-9],
  ])("%s as %d F", (text, farads) => expect(value(text, "farad")).toBe(farads));
});

describe("Other units are read", () => {
  it.each<[string, AnyUnit, number]>([
    ["0.5mH", "henry", 0.5e-3],
    ["2.5 H", "henry", 2.5],
    ["6 V", "volt", 6],
    ["-3.2 V", "volt", -3.2],
    ["\u22123,2V", "volt", -3.2],
    ["120 mV", "volt", 0.12],
    ["5V2", "volt", 5.2],
    ["5 µA", "ampere", 5e-6],
    ["50mA", "ampere", 0.05],
    ["0.25 W", "watt", 0.25],
    ["63 kHz", "hertz", 63e3],
    ["63 KHz", "hertz", 63e3],
    ["1 MHz", "hertz", 1e6],
    ["5 ms", "second", 0.005],
    ["20 µS", "siemens", 20e-6],
    ["25 °C", "celsius", 25],
    ["25C", "celsius", 25],
    ["25 C", "celsius", 25],
    ["-10 ºC", "celsius", -10],
    ["298.15 K", "celsius", 25],
    ["3000 K", "kelvin", 3000],
    ["3000", "kelvin", 3000],
    ["0.4 K/mW", "kelvin-per-watt", 400],
    ["60 K/W", "kelvin-per-watt", 60],
    ["70%", "percent", 0.7],
    ["70 %", "percent", 0.7],
    ["7%", "percent", 0.07],
    ["1200 turns", "turns", 1200],
    ["0.998", "number", 0.998],
  ])("%s as a value in %s", (text, unit, number) => expect(value(text, unit)).toBe(number));

  it("with m for milli and M for mega, always", () => {
    expect(value("10m", "ohm")).toBe(0.01);
    expect(value("10M", "ohm")).toBe(1e7);
    expect(value("10 mHz", "hertz")).toBe(0.01);
  });
});

describe("A tolerance is read", () => {
  it.each([
    ["±10%", -0.1, 0.1],
    ["10%", -0.1, 0.1],
    ["± 10 %", -0.1, 0.1],
    ["+/-10%", -0.1, 0.1],
    ["-20% +100%", -0.2, 1],
    ["+100% -20%", -0.2, 1],
    ["-20 % +100 %", -0.2, 1],
    ["-20/+100%", -0.2, 1],
    ["0.5%", -0.005, 0.005],
  ])("from %s", (text, low, high) =>
    expect(marked("resistor", `4k7 ${text}`).tolerance).toEqual([low, high]),
  );

  // IEC 60062
  it.each([
    ["4k7B", -0.001, 0.001],
    ["4k7C", -0.0025, 0.0025],
    ["4k7D", -0.005, 0.005],
    ["4k7F", -0.01, 0.01],
    ["4k7G", -0.02, 0.02],
    ["4k7H", -0.03, 0.03],
    ["4k7J", -0.05, 0.05],
    ["4k7K", -0.1, 0.1],
    ["4k7M", -0.2, 0.2],
    ["4k7N", -0.3, 0.3],
    ["4k7Q", -0.1, 0.3],
    ["4k7S", -0.2, 0.5],
    ["4k7T", -0.1, 0.5],
    ["4k7Z", -0.2, 0.8],
  ])("from the letter of %s", (text, low, high) => {
    expect(marked("resistor", text)).toEqual({ value: 4700, tolerance: [low, high] });
  });

  it("from the letter behind a value that ends with its prefix", () => {
    expect(marked("resistor", "470RK")).toEqual({ value: 470, tolerance: [-0.1, 0.1] });
    expect(marked("capacitor", "100nM")).toEqual({ value: 100e-9, tolerance: [-0.2, 0.2] });
  });

  it("in picofarads from the letters of capacitors below 10 pF", () => {
    expect(marked("capacitor", "5p0D").tolerance?.[1]).toBeCloseTo(0.1, 12);
    expect(marked("capacitor", "5p0J").tolerance?.[1]).toBe(0.05);
  });

  it("not from a letter that is the unit", () => {
    expect(marked("capacitor", "4n7F")).toEqual({ value: 4.7e-9 });
  });
});

describe("A marking that two people read differently is refused, with both readings", () => {
  it.each([
    ["4700", "4700 pF or 4700 µF"],
    ["0.1", "0.1 pF or 0.1 µF"],
    ["47K", "47 nF or 47 pF ±10 %"],
    ["47M", "47 µF or 47 pF ±20 %"],
    ["50 MF", "50 µF on old parts, but reads as 50 megafarads"],
    ["50MF", "50 µF on old parts, but reads as 50 megafarads"],
    ["22k", "22 nF, or 22 pF"],
    ["4K7", "4.7 nF"],
  ])("%s on a capacitor", (text, readings) => expect(value(text, "farad")).toContain(readings));

  it("4E7 on a resistor", () => expect(value("4E7", "ohm")).toContain("4.7 Ω"));
});

describe("A value of the wrong unit is an error that says what was expected", () => {
  it.each<[string, AnyUnit, string]>([
    ["10 µF", "ohm", "is a capacitance, but a resistance is expected here"],
    ["100nF", "ohm", "is a capacitance, but a resistance is expected here"],
    ["4m7H", "ohm", "is an inductance, but a resistance is expected here"],
    ["4k7 ohm", "farad", "is a resistance, but a capacitance is expected here"],
    ["6 V", "ampere", "is a voltage, but a current is expected here"],
    ["25 °C", "volt", "is a temperature, but a voltage is expected here"],
    ["5 ms", "hertz", "is a time, but a frequency is expected here"],
    ["40%", "number", "is a percentage, but a plain number is expected here"],
  ])("%s where a value in %s stands", (text, unit, message) => expect(value(text, unit)).toContain(message));

  it.each<[string, AnyUnit, string]>([
    ["5 hz", "hertz", '"5 Hz"'],
    ["10 kohms", "ohm", ""],
    ["0.1 mfd", "farad", "0.1 µF"],
    ["50 µµF", "farad", "50 pF"],
    ["10 kc/s", "hertz", "10 kHz"],
    ["0.7", "percent", "70%"],
    ["100 cm", "farad", "111p"],
    ["47nS", "farad", '47n -20% +50% if "S" is the tolerance'],
    ["47nH", "farad", '47n ±3% if "H" is the tolerance'],
    ["10 µF", "ohm", "4k7, 470R"],
  ])("%s is answered with the way to write it", (text, unit, hint) => {
    const found = readQuantity(text, unit);
    if (hint === "") expect(found).toBe(10e3);
    else expect(typeof found === "number" ? "" : found.hint).toContain(hint);
  });

  it.each(["", "x", "4k7k7", "1.2.3", "k", "--4", "4k7 4k7", "4 7", "4k 7", "1e999", "\ufffd", "4\ufffd7"])(
    '"%s" is no resistance',
    (text) => expect(value(text, "ohm")).toMatch(/^refused/),
  );
});

describe("A value far outside what the part can be is kept with a warning", () => {
  it("that says how it was read and what was probably meant", () => {
    expect(said(around("resistor R1 10 m rail to chassis"))).toEqual([
      '3 warning: R1: "10 m" is read as 10 mΩ; the resistance is usually 50 mΩ to 30 MΩ',
    ]);
    expect(marked("resistor", "10 m").value).toBe(0.01);
    expect(marked("capacitor", "3 F").value).toBe(3);
  });

  it("but a negative or a zero one is an error", () => {
    expect(errors(around("resistor R1 -4k7 rail to chassis"))).toHaveLength(1);
    expect(errors(around("resistor R1 0R rail to chassis"))).toHaveLength(1);
    expect(errors(around("inductor L1 1mH dcr 0 ohm rail to x", "resistor R1 1k x to chassis"))).toEqual([]);
  });
});

describe("A value is written", () => {
  it.each<[number, AnyUnit, string]>([
    [4700, "ohm", "4.7 kΩ"],
    [0.02, "ohm", "20 mΩ"],
    [100e-6, "farad", "100 µF"],
    [0.7, "percent", "70%"],
    [0, "percent", "0%"],
    [0, "volt", "0 V"],
    [-3.25, "volt", "-3.25 V"],
    [25, "celsius", "25 °C"],
    [1200, "turns", "1200 turns"],
    [1.5e12, "ohm", "1500 GΩ"],
  ])("%d in %s as %s", (number, unit, text) => expect(writeValue(number, unit)).toBe(text));

  it("rounded where digits are asked for", () => expect(writeValue(4712.3, "ohm", 3)).toBe("4.71 kΩ"));
});
