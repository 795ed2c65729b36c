import { describe, expect, it } from "vitest";
import { type TypeCurves, typeCurves } from "../../src/bench/curves.ts";
import type { DeviceType } from "../../src/circuit/circuit.ts";
import { libraryTypes } from "../../src/language/index.ts";

const library = libraryTypes();
const of = (name: string, conditions = {}): TypeCurves => typeCurves(library[name]!, conditions)!;
const transistors = Object.values(library).filter(({ device }) => device !== "diode");

describe("the characteristics of a type", () => {
  it("end at the type's limits of voltage and current, or where they are told to", () => {
    const { output } = of("OC71");
    expect(output[0]?.vce_volts.at(-1)).toBe(20);
    const highest = output.at(-1)!.ic_amps.at(-1)!;
    expect(highest).toBeGreaterThan(0.8 * 10e-3);
    expect(highest).toBeLessThanOrEqual(10e-3 * (1 + 1e-9));
    const small = of("OC71", { volts: 6, amps: 1e-3 });
    expect(small.output[0]?.vce_volts.at(-1)).toBe(6);
    expect(small.output.at(-1)!.ic_amps.at(-1)!).toBeLessThanOrEqual(1e-3 * (1 + 1e-9));
    expect(small.gain[0]?.ic_amps.at(-1)).toBeCloseTo(1e-3, 12);
  });

  it("rise with the base current and with the voltage, for every type of the library", () => {
    for (const type of transistors) {
      const { output } = typeCurves(type)!;
      expect(output.length, type.name).toBeGreaterThanOrEqual(4);
      output.forEach(({ ic_amps, vce_volts }, k) => {
        for (let i = 1; i < ic_amps.length; i++) {
          // of silicon's leakage rounding leaves ten digits
          expect(ic_amps[i]!).toBeGreaterThanOrEqual(ic_amps[i - 1]! * (1 - 1e-9));
        }
        const below = output[k - 1];
        // far from saturation: where the collector junction conducts, more drive draws a little less
        const at = vce_volts.findIndex((volts) => volts >= 1);
        if (below !== undefined) expect(ic_amps[at]!).toBeGreaterThan(below.ic_amps[at]!);
      });
    }
  });

  it("start with the open base, which draws (hfe + 1)·I_CBO", () => {
    // without narrowing and fall-off: I_CEO = (β + 1)·I_CBO, where Is/β is small against I_CBO
    const type: DeviceType = {
      name: "X",
      device: "npn",
      material: "germanium",
      figures: { hfe: 50, vbe: 0.3, "vbe.at": 1e-3, leakage: 4e-6, early: 1e9, "limits.vce": 10 },
      place: { file: "f", line: 1, column: 1 },
    };
    const [open] = typeCurves(type)!.output;
    expect(open?.ib_amps).toBe(0);
    expect(open!.ic_amps.at(-1)! / (51 * 4e-6)).toBeCloseTo(1, 3);
  });

  it("pass the given points of hfe at 25 °C", () => {
    for (const type of transistors) {
      const { gain, given } = typeCurves(type)!;
      const { ic_amps, hfe } = gain.find(({ sample }) => sample === "typical")!;
      for (const point of given) {
        const k = ic_amps.findIndex((amps) => amps >= point.ic_amps * (1 - 1e-9));
        expect(point.hfe, type.name).toBeGreaterThanOrEqual(hfe[k]! * (1 - 1e-9));
        if (k > 0) expect(point.hfe).toBeLessThanOrEqual(hfe[k - 1]! * (1 + 1e-9));
      }
    }
  });

  it("are higher in a warm transistor, by the leakage above all", () => {
    const [cold] = of("AC128").output;
    const [warm] = of("AC128", { celsius: 45 }).output;
    expect(warm!.ic_amps.at(-1)! / cold!.ic_amps.at(-1)!).toBeGreaterThan(2 ** (20 / 9));
    expect(of("AC128", { celsius: 45 }).junction_celsius).toBe(45);
  });

  it("are those of the open base alone where that is all the current asked for", () => {
    const { output } = of("AD149", { amps: 1e-4 });
    expect(output.map(({ ib_amps }) => ib_amps)).toEqual([0]);
  });

  it("belong to transistors: a diode has none", () => {
    expect(typeCurves(library.OA81!)).toBeUndefined();
  });
});
