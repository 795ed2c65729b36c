/**
 * Letter codes and tolerance letters of IEC 60062 (IEC 62:1952, DIN 40825:1973, BS 1852), and the markings
 * of old parts. Seen in public copies of the tables where not said otherwise.
 */
import { describe, expect, it } from "vitest";
import { readNetlist } from "../../src/language/index.ts";
import { circuitOf, expectNear, expectWithin } from "./bench.ts";

const ground = "resistor R9 1k x to chassis\n";
const part = (statement: string) => circuitOf(`${statement} x to chassis\n${ground}`).parts[0]!;
const resistance = (code: string) => part(`resistor R1 ${code}`).values.resistance!;
const capacitance = (code: string) => part(`capacitor C1 ${code}`).values.capacitance!;
const errorsOf = (statement: string) =>
  readNetlist(`${statement} x to chassis\n${ground}`).diagnostics.filter(
    ({ severity }) => severity === "error",
  );

describe("the letter code of a resistor", () => {
  it.each([
    // IEC 60062, resistance values (Wikipedia: RKM code)
    ["R47", 0.47],
    ["4R7", 4.7],
    ["470R", 470],
    ["4K7", 4700],
    ["47K", 47e3],
    ["47K3", 47.3e3],
    ["470K", 470e3],
    ["4M7", 4.7e6],
    ["15M0", 15e6],
  ])("%s stands for %f Ω", (code, ohms) => {
    expectNear(resistance(code), ohms, 1e-15);
  });

  it("may have its kilo small, as everyone writes it", () => {
    // common practice, no source
    expect(resistance("4k7")).toBe(resistance("4K7"));
  });
});

describe("the letter code of a capacitor", () => {
  it.each([
    // IEC 60062, capacitance values (3n9 seen; the rest from memory)
    ["p33", 0.33e-12],
    ["3p3", 3.3e-12],
    ["33p", 33e-12],
    ["330p", 330e-12],
    ["n33", 330e-12],
    ["3n3", 3.3e-9],
    ["3n9", 3.9e-9],
    ["33n", 33e-9],
    ["µ33", 330e-9],
    ["u33", 330e-9],
    ["3µ3", 3.3e-6],
    ["4m7", 4700e-6],
    ["µ1", 0.1e-6],
  ])("%s stands for %f F", (code, farads) => {
    expectNear(capacitance(code), farads, 1e-12);
  });
});

describe("the tolerance letter behind a coded value", () => {
  it.each([
    // IEC 60062, symmetric tolerances
    ["B", 0.001],
    ["C", 0.0025],
    ["D", 0.005],
    ["F", 0.01],
    ["G", 0.02],
    ["J", 0.05],
    ["K", 0.1],
    ["M", 0.2],
    ["N", 0.3],
  ])("%s is ±%f of a resistor", (letter, share) => {
    const { tolerance, values } = part(`resistor R1 4k7${letter}`);
    expect(values.resistance).toBe(4700);
    expect(tolerance).toBeDefined();
    expectNear(tolerance!.high, share, 1e-12);
    expectNear(tolerance!.low, -share, 1e-12);
  });

  it.each([
    // IEC 60062, asymmetric tolerances; Z is −20 +80 %
    // (dummies.com; one German page prints −20 +100)
    ["Q", -0.1, 0.3],
    ["S", -0.2, 0.5],
    ["T", -0.1, 0.5],
    ["Z", -0.2, 0.8],
  ])("%s is %f and %f of a capacitor", (letter, low, high) => {
    const { tolerance } = part(`capacitor C1 4n7${letter}`);
    expectNear(tolerance!.low, low, 1e-12);
    expectNear(tolerance!.high, high, 1e-12);
  });

  it.each([
    // IEC 60062: below 10 pF the letters are picofarads; F is left out, since behind a prefix it is the
    // farad
    ["B", 0.1],
    ["C", 0.25],
    ["D", 0.5],
    ["G", 2],
  ])("%s of a capacitor below 10 pF is ±%f pF", (letter, picofarads) => {
    const { tolerance } = part(`capacitor C1 4p7${letter}`);
    expectWithin(tolerance!.high * 4.7, picofarads, 1e-9);
    expectWithin(tolerance!.low * 4.7, -picofarads, 1e-9);
  });
});

describe("markings of old parts", () => {
  it("a capacitor of a number alone is refused with both readings, picofarads and microfarads", () => {
    // elkonet, oerttel.net: bare integer is pF, bare decimal µF
    for (const code of ["2200", "0.47", "0,1"]) {
      const [error] = errorsOf(`capacitor C1 ${code}`);
      expect(error?.message, code).toMatch(/pF/);
      expect(error?.message, code).toMatch(/µF/);
    }
  });

  it("47K on a capacitor is refused with both readings, 47 nF and 47 pF ±10 %", () => {
    // IEC 60062 letter K on old European capacitors; kilo-picofarads from memory
    const [error] = errorsOf("capacitor C1 47K");
    expect(error?.message).toMatch(/47 nF/);
    expect(error?.message).toMatch(/47 pF ±10 %/);
  });

  it("50 MF is refused: microfarads on old parts, never megafarads", () => {
    // MF, mF, mfd on old parts: µF (from memory)
    const [error] = errorsOf("capacitor C1 50 MF");
    expect(error?.message).toMatch(/50 µF/);
  });

  it("50MMF and 50 mmfd are picofarads, and the hint says so", () => {
    // dampfradioforum: MMF, µµF, mmfd
    for (const code of ["50MMF", "50 mmfd"]) {
      const [error] = errorsOf(`capacitor C1 ${code}`);
      expect(error?.hint, code).toMatch(/50 pF/);
    }
  });

  it("1000 cm is 1113 pF, and the hint says so", () => {
    // CGS: 1 cm = 1.11265 pF (from memory; 1/0.898755)
    const [error] = errorsOf("capacitor C1 1000 cm");
    expect(error?.hint).toMatch(/1110p|1113p/);
  });

  it(".05 µF is 0.05 µF and 4,7k is 4.7 kΩ", () => {
    // dampfradioforum: leading zero left out; decimal comma of European sheets
    expectNear(capacitance(".05 µF"), 0.05e-6, 1e-12);
    expectNear(resistance("4,7k"), 4700, 1e-12);
  });

  it("the small k is nothing a capacitor's value can have: 22k on a capacitor is refused with 22 nF for it", () => {
    // "22k" on a German capacitor is 22 nF (from memory)
    const [error] = errorsOf("capacitor C1 22k");
    expect(error).toBeDefined();
    expect(`${error?.message} ${error?.hint}`).toMatch(/22 ?n/);
  });
});
