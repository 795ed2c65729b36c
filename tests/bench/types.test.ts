import { describe, expect, it } from "vitest";
import { type TypeFigure, typeSheet, typeSheets } from "../../src/bench/types.ts";
import type { DeviceType } from "../../src/circuit/circuit.ts";

const type = (figures: Record<string, number>, more: Partial<DeviceType> = {}): DeviceType => ({
  name: "PN1",
  device: "pnp",
  material: "germanium",
  figures,
  place: { file: "f", line: 1, column: 1 },
  ...more,
});

const figure = (of: DeviceType, name: string): TypeFigure[] =>
  typeSheet(of).figures.filter((found) => found.figure === name);

describe("the sheet of a device type", () => {
  it("shows a given figure with the condition it holds for", () => {
    expect(figure(type({ vbe: 0.103, "vbe.at": 5e-4 }), "vbe")).toMatchObject([
      { value: 0.103, unit: "volt", at: 5e-4, at_unit: "ampere", origin: "given" },
    ]);
  });

  it("shows both points of a current gain that falls off", () => {
    const falling = type({ hfe: 70, "hfe.at": 1e-3, hfe2: 45, "hfe2.at": 0.05 });
    expect(figure(falling, "hfe")).toMatchObject([
      { value: 70, at: 1e-3 },
      { value: 45, at: 0.05 },
    ]);
  });

  it("marks what the material supplies as default", () => {
    expect(figure(type({}), "vbe")).toMatchObject([{ value: 0.12, at: 1e-3, origin: "default" }]);
    expect(figure(type({}, { material: "silicon" }), "vbe")).toMatchObject([
      { value: 0.62, origin: "default" },
    ]);
    expect(figure(type({}), "doubling")).toMatchObject([{ value: 9, unit: "kelvin", origin: "default" }]);
  });

  it("derives the transition frequency from either cut-off frequency", () => {
    expect(figure(type({ falpha: 1.2e6 }), "ft")).toMatchObject([{ value: 1e6, origin: "derived" }]);
    expect(figure(type({ fbeta: 20e3, hfe: 50, "hfe.at": 2e-3 }), "ft")).toMatchObject([
      { value: 1e6, at: 2e-3, origin: "derived" },
    ]);
  });

  it("derives the Early voltage from the output conductance", () => {
    const [found] = figure(type({ h22: 20e-6, "h22.at": 1e-3 }), "early");
    expect(found).toMatchObject({ origin: "derived" });
    expect(found?.value).toBeCloseTo(50, 9);
  });

  it("derives the leakage where the junctions alone leak more than the material's default", () => {
    // Is = 1 mA/expm1(40 mV/25.69 mV) = 0.267 mA, far above 4 µA
    const leaky = figure(type({ vbe: 0.04, "vbe.at": 1e-3 }), "leakage");
    expect(leaky).toMatchObject([{ origin: "derived" }]);
    expect(leaky[0]?.value).toBeGreaterThan(4e-6);
  });

  it("keeps limits, the spread and the greatest leakage of a sound sample", () => {
    const full = type({
      "limits.vce": 15,
      "spread.least": 40,
      "spread.greatest": 120,
      leakage: 4e-6,
      "leakage.max": 1e-5,
    });
    expect(typeSheet(full).figures.map((found) => found.figure)).toEqual(
      expect.arrayContaining(["limits.vce", "spread.least", "spread.greatest", "leakage", "leakage.max"]),
    );
    expect(figure(full, "leakage")).toMatchObject([{ at: 25, at_unit: "celsius" }]);
  });

  it("names parameters with their units and leaves out what is infinite", () => {
    const { parameters } = typeSheet(type({ hfe: 70, "hfe.at": 1e-3 }));
    expect(parameters).toMatchObject({ forward_gain: 70, reverse_gain: 8, early_volts: 60, base_ohms: 100 });
    expect(parameters).not.toHaveProperty("knee_amps");
    expect(Object.values(parameters).every(Number.isFinite)).toBe(true);
  });

  it("reproduces V_BE from the saturation current it shows", () => {
    const { parameters } = typeSheet(type({ vbe: 0.15, "vbe.at": 2e-3 }));
    // V = Vt·ln(I/Is + 1), Vt = kT/q at 298.15 K; CODATA 2018
    const vt = (1.380649e-23 / 1.602176634e-19) * 298.15;
    expect(vt * Math.log(2e-3 / (parameters.saturation_amps ?? 0) + 1)).toBeCloseTo(0.15, 12);
  });

  it("knows diodes", () => {
    const sheet = typeSheet(type({ vf: 0.2, "vf.at": 1e-3, rs: 5, "limits.vr": 20 }, { device: "diode" }));
    expect(sheet.figures.map(({ figure, origin }) => `${figure} ${origin}`)).toEqual([
      "vf given",
      "ideality default",
      "rs given",
      "cj default",
      "limits.vr given",
    ]);
    expect(sheet.parameters).toMatchObject({ ideality: 1, series_ohms: 5 });
  });

  it("lists types in the order people count", () => {
    const named = (name: string) => [name, type({}, { name })] as const;
    const sheets = typeSheets(Object.fromEntries([named("PN10"), named("PN2"), named("DN1")]));
    expect(sheets.map((sheet) => sheet.type)).toEqual(["DN1", "PN2", "PN10"]);
  });
});
