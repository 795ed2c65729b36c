import { describe, expect, it } from "vitest";
import type { DeviceType } from "../../src/circuit/circuit.ts";
import { MATERIALS } from "../../src/devices/material.ts";
import { LIBRARY_TEXT, libraryTypes } from "../../src/language/library.ts";
import {
  atZeroCollectorVoltage,
  depletion,
  emitterOpen,
  forwardVolts,
  speedAt,
  VT,
} from "./sheet-circuits.ts";

const types = Object.values(libraryTypes());
const transistors = types.filter(({ device }) => device !== "diode");
const diodes = types.filter(({ device }) => device === "diode");
const invented = ["LN", "GP", "DR", "OP", "HF", "NC", "SP", "DG", "DB"];
const real = types.filter(({ name }) => !invented.includes(name));

/** Current at which high injection halves the gain, by the sheet's two points; docs/models.md. */
function kneeOf({ figures: f }: DeviceType): number {
  const [h1, i1, h2, i2] = [f.hfe!, f["hfe.at"]!, f.hfe2, f["hfe2.at"]];
  return h2 === undefined || i2 === undefined ? Infinity : (h2 * i2 - h1 * i1) / (h1 - h2);
}

/** Current gain at a collector current. */
function gainAt(type: DeviceType, amps: number): number {
  const knee = kneeOf(type);
  return (type.figures.hfe! * (1 + type.figures["hfe.at"]! / knee)) / (1 + amps / knee);
}

/** What the transconductance would be if the collector drew nothing backwards, S; docs/models.md. */
function forwardConductance(type: DeviceType, junction: number): number {
  const { vbe = 0, "vbe.at": amps = 0 } = type.figures;
  const saturation = (amps * (1 + amps / kneeOf(type))) / Math.expm1(vbe / VT);
  const injected = saturation * Math.expm1(junction / VT);
  return (injected + saturation) / VT / Math.sqrt(1 + (4 * injected) / kneeOf(type));
}

const rbbOf = ({ figures, material }: DeviceType) => figures.rbb ?? MATERIALS[material].rbb;

/** The type without the narrowing of the base, which a sheet's figure knows nothing of. */
const wide = (type: DeviceType): DeviceType => ({ ...type, figures: { ...type.figures, early: 1e12 } });

const relative = (found: number, wanted: number) => expect(Math.abs(found / wanted - 1)).toBeLessThan(1e-6);

describe("The library's collection", () => {
  const count = (device: (type: DeviceType) => boolean) => real.filter(device).length;

  it("has sixty real germanium transistors, both polarities, twelve diodes and a dozen of silicon", () => {
    const germanium = (type: DeviceType) => type.material === "germanium" && type.device !== "diode";
    expect(count(germanium)).toBeGreaterThanOrEqual(60);
    expect(count((type) => germanium(type) && type.device === "npn")).toBeGreaterThanOrEqual(10);
    expect(count(({ device }) => device === "diode")).toBeGreaterThanOrEqual(12);
    expect(count((type) => type.material === "silicon" && type.device !== "diode")).toBeGreaterThanOrEqual(
      12,
    );
  });

  it("begins with the invented types of the demonstrations and names none twice", () => {
    const names = [...LIBRARY_TEXT.matchAll(/^type +(\S+)/gm)].map(([, name]) => name);
    expect(names.slice(0, invented.length)).toEqual(invented);
    expect(new Set(names).size).toBe(names.length);
    expect(names.length).toBe(types.length);
  });

  it.each(real.map((type) => [type.name, type] as const))("says whence the figures of %s come", (_, type) => {
    expect(type.source).toMatch(/from memory|seen in/);
    expect(type.case === undefined).toBe(type.leads === undefined);
  });
});

describe("The figures of a type agree with each other", () => {
  it.each(transistors.map((type) => [type.name, type] as const))("in %s", (_, { figures: f }) => {
    expect(f["spread.least"]).toBeLessThanOrEqual(f.hfe!);
    expect(f["spread.greatest"]).toBeGreaterThanOrEqual(f.hfe!);
    expect(f.leakage).toBeLessThanOrEqual(f["leakage.max"]!);
    expect(f["leakage.at"] ?? 25).toBe(25);
    for (const at of [f["hfe.at"], f["vbe.at"]]) {
      expect(at).toBeLessThanOrEqual(f["limits.ic"]!);
    }
    expect(f["limits.vce"]).toBeLessThanOrEqual(f["limits.vcb"] ?? Infinity);
    expect(f["limits.ptot"]).toBeGreaterThan(0);
    // at the rated dissipation and 25 °C the junction is not far beyond its limit
    expect(25 + f.rth! * f["limits.ptot"]!).toBeLessThan(1.6 * f["limits.tj"]! + 25);
  });
});

describe("A transistor in the test circuit of its sheet shows what the sheet says", () => {
  const cases = transistors.map((type) => [type.name, type] as const);

  // the sheet's gain is that without leakage: no voltage stands across the collector junction
  it.each(cases)("%s its current gain, at both points", (_, type) => {
    const { figures: f } = type;
    for (const [hfe, amps] of [
      [f.hfe, f["hfe.at"]],
      [f.hfe2, f["hfe2.at"]],
    ] as const) {
      if (hfe === undefined || amps === undefined) continue;
      const { collector, base } = atZeroCollectorVoltage(type, amps, (rbbOf(type) * amps) / hfe);
      relative(collector, amps);
      relative(collector / base, hfe);
    }
  });

  // the library gives V_BE without the drop in the base resistance
  it.each(cases)("%s its base-emitter voltage", (_, type) => {
    const amps = type.figures["vbe.at"]!;
    const drop = (rbbOf(type) * amps) / gainAt(type, amps);
    const { volts, base } = atZeroCollectorVoltage(type, amps, drop);
    relative(volts - base * rbbOf(type), type.figures.vbe!);
  });

  // 2 V are eighty times kT/q: the junction is saturated
  it.each(cases)("%s its leakage with the emitter open", (_, type) => {
    relative(emitterOpen(wide(type), 2), type.figures.leakage!);
    expect(Math.abs(emitterOpen(type, 2) / type.figures.leakage! - 1)).toBeLessThan(1e-3);
  });

  /*
   * 1/(2πf_T) is the base's own delay and the time the junctions' capacitances take to charge at kT/qI.
   * In the circuit these stand at their own voltages and charge through the transconductance there is.
   */
  it.each(cases)("%s its transition frequency, by its definition", (_, type) => {
    const { figures: f, material } = type;
    const potential = MATERIALS[material].junctionPotential;
    const amps = f["ft.at"] ?? f["falpha.at"] ?? f["hfe.at"]!;
    const sheet = f.ft ?? f.falpha! / 1.2;
    const [ccb, at] = [f.ccb!, f["ccb.at"]!];
    const [ceb, ebAt] = [f.ceb ?? 0, f["ceb.at"] ?? 0];
    const own = 1 / (2 * Math.PI * sheet) - ((ccb + ceb) * VT) / amps;
    expect(own).toBeGreaterThan(0);
    const found = speedAt(wide(type), gainAt(type, amps), amps, at, rbbOf(type));
    const charging = (ccb + depletion(ceb, ebAt, potential, -found.junction)) / found.transconductance;
    const delay = (own * forwardConductance(type, found.junction)) / found.transconductance;
    relative(1 / (2 * Math.PI * found.hertz), delay + charging);
  });

  // as it stands: the base is narrower at that collector voltage, and the type faster
  it.each(cases)("%s a transition frequency near the sheet's with everything in", (_, type) => {
    const { figures: f, material } = type;
    const amps = f["ft.at"] ?? f["falpha.at"] ?? f["hfe.at"]!;
    const found = speedAt(type, gainAt(type, amps), amps, f["ccb.at"]!, rbbOf(type));
    const early = f.early ?? (f.h22 === undefined ? MATERIALS[material].early : f["h22.at"]! / f.h22);
    const ratio = found.hertz / (f.ft ?? f.falpha! / 1.2);
    expect(ratio).toBeGreaterThan(0.9);
    expect(ratio).toBeLessThan(1.02 * (1 + f["ccb.at"]! / early));
  });
});

describe("A diode in the test circuit of its sheet shows what the sheet says", () => {
  it.each(diodes.map((type) => [type.name, type] as const))("%s its forward voltage", (_, type) => {
    relative(forwardVolts(type, type.figures["vf.at"]!), type.figures.vf!);
  });
});
