import { describe, expect, it } from "vitest";
import { formatNetlist, readQuantity, readSetting } from "../../src/language/index.ts";
import { writeValue } from "../../src/language/units.ts";
import { circuitOf } from "./reading.ts";

const TEXT = `battery        B1  6 V   plus rail minus chassis
motor          M1  18 ohm emf 2.1 mV/rpm inertia 40 gcm2 drag 0.4 mNm load 0.6 mNm  plus rail minus chassis
governor       GV1 of M1 opens 2400 rpm closes 2380 rpm  rail to lamp
resistor       R1  100R  lamp to chassis

mode           run
mode           held GV1 open M1 load 1.5 mNm
`;
const circuit = circuitOf(TEXT);

describe("Motors and governors in a netlist", () => {
  it("have their values in SI units, speeds in revolutions a minute", () => {
    const [, motor, governor] = circuit.parts;
    expect(motor?.values.resistance).toBe(18);
    expect(motor?.values.emf).toBeCloseTo(2.1e-3, 15);
    expect(motor?.values.inertia).toBeCloseTo(4e-6, 18);
    expect(motor?.values.drag).toBeCloseTo(0.4e-3, 15);
    expect(governor?.values).toEqual({ opens: 2400, closes: 2380, contact: 0.02 });
    expect(governor?.choices).toEqual({ of: "M1" });
  });

  it("are set by modes and by the command line, the contact by a word", () => {
    expect(circuit.modes[1]?.states).toEqual([
      { part: "GV1", key: "state", value: "open" },
      { part: "M1", key: "load", value: 1.5e-3 },
    ]);
    expect(readSetting(circuit, "GV1=closed")).toEqual([{ part: "GV1", key: "state", value: "closed" }]);
    expect(readSetting(circuit, "GV1.contact=0.1R")).toEqual([{ part: "GV1", key: "contact", value: 0.1 }]);
    expect(readSetting(circuit, "M1.load=1.5mNm")).toEqual([{ part: "M1", key: "load", value: 1.5e-3 }]);
    expect(readSetting(circuit, "M1=20R")).toEqual([{ part: "M1", key: "resistance", value: 20 }]);
    expect(readSetting(circuit, "GV1=shut")).toEqual({
      message: 'GV1 cannot be "shut"',
      hint: "it can be open or closed",
    });
  });

  it("stand in the canonical layout as other parts do", () => {
    expect(formatNetlist(TEXT)).toBe(TEXT);
  });

  it.each([
    ["40 gcm2", "inertia", 4e-6],
    ["40 g·cm²", "inertia", 4e-6],
    ["0.04 kgcm2", "inertia", 4e-6],
    ["4e-6 kg·m²", "inertia", 4e-6],
    ["0.4mNm", "torque", 4e-4],
    ["0.4 mN·m", "torque", 4e-4],
    ["0.04 Ncm", "torque", 4e-4],
    ["40 mNcm", "torque", 4e-4],
    ["2.1mV/rpm", "volt-per-rpm", 2.1e-3],
    ["2400 rpm", "rpm", 2400],
    ["2400/min", "rpm", 2400],
  ] as const)("%s is read as %s", (text, unit, expected) => {
    const found = readQuantity(text, unit);
    expect(typeof found === "number" ? found / expected : found).toBeCloseTo(1, 14);
  });

  it("have values that are written as they are read", () => {
    expect(writeValue(4e-6, "inertia")).toBe("40 g·cm²");
    expect(writeValue(4e-4, "torque")).toBe("400 µN·m");
    expect(writeValue(2.1e-3, "volt-per-rpm")).toBe("2.1 mV/rpm");
    expect(writeValue(2400, "rpm")).toBe("2400 rpm");
  });
});
