import { describe, expect, it } from "vitest";
import { readQuantity, readSetting } from "../../src/language/index.ts";
import { circuitOf, SAMPLE } from "./reading.ts";

const circuit = circuitOf(SAMPLE);
const set = (text: string) => readSetting(circuit, text);
const refusal = (text: string) => {
  const found = set(text);
  return "message" in found ? `${found.message}|${found.hint ?? ""}` : "accepted";
};

describe("A setting on the command line", () => {
  it.each([
    ["P1=30%", "P1", "setting", 0.3],
    ["R4=4k7", "R4", "resistance", 4700],
    ["S1=record", "S1", "position", "record"],
    ["B1=5.2V", "B1", "emf", 5.2],
    ["B1 = 5.2 V", "B1", "emf", 5.2],
    ["L1=30%", "L1", "setting", 0.3],
    ["C2.esr=10 ohm", "C2", "esr", 10],
    ["C2=100µ", "C2", "capacitance", 100e-6],
    ["C2=10V", "C2", "rated", 10],
    ["R1=0.5W", "R1", "rating", 0.5],
    ["G1=2mV", "G1", "emf", 2e-3],
    ["TR1.coupling=1", "TR1", "coupling", 1],
  ])("%s", (text, part, key, value) => expect(set(text)).toEqual([{ part, key, value }]));

  it("may name several parts", () => {
    const states = [
      { part: "P1", key: "setting", value: 0.3 },
      { part: "B1", key: "emf", value: 5.2 },
    ];
    expect(set("P1=30% B1=5.2 V")).toEqual(states);
    expect(set("P1=30%, B1=5.2 V")).toEqual(states);
  });

  it.each([
    ["P9=30%", "no part P9 to be set|"],
    ["p1=30%", 'no part p1 to be set|did you mean "P1"?'],
    ["S1=recrd", 'no position "recrd"|did you mean "record"?'],
    ["S1=off", 'no position "off"|its positions are play and record'],
    ["R4=30%", 'R4 has no setting, so "30%" says nothing'],
    ["R4=4 µF", "is a capacitance, but a resistance is expected here"],
    ["R4=-4k7", "is negative"],
    ["P1=120%", "is outside 0% to 100%"],
    ["P1=0.7", 'P1: "0.7" can be a setting or a resistance|write 70% for the setting'],
    ["L1=3mH", "L1 has a core to be set"],
    ["T1=PN2", 'T1 is a transistor: "PN2" cannot be set'],
    ["P1", '"P1" does not say what is set to what'],
    ["=30%", "does not say"],
    ["", "A part and what it is set to are expected"],
    ["R4=", "R4: what it is set to is expected here"],
    ["TR1.coupling=1.2", "TR1: a coupling factor is at most 1|0.998 is usual"],
    ["R4=4k7 5k", '"5k" is not expected behind the value'],
    ["C2.esl=10", 'C2 has nothing called "esl" to be set|did you mean "esr"?'],
  ])("%s is refused in a sentence", (text, sentence) => expect(refusal(text)).toContain(sentence));
});

describe("A value on the command line", () => {
  it("is read in the unit asked for", () => {
    expect(readQuantity("35C", "celsius")).toBe(35);
    expect(readQuantity(" 20Hz ", "hertz")).toBe(20);
    expect(readQuantity("2k", "hertz")).toBe(2000);
    expect(readQuantity("5 ms", "second")).toBe(0.005);
  });

  it("is refused in a sentence", () => {
    expect(readQuantity("35 V", "celsius")).toEqual({
      message: '"35 V" is a voltage, but a temperature is expected here',
      hint: "write it as 25 °C",
    });
  });
});
