import { describe, expect, it } from "vitest";
import { typesLike } from "../../src/bench/alike.ts";
import { fits } from "../../src/bench/types.ts";
import type { DeviceType } from "../../src/circuit/circuit.ts";
import { libraryTypes } from "../../src/language/index.ts";

const library = libraryTypes();
const all = Object.values(library);
const transistors = all.filter(({ device }) => device !== "diode");

const FIGURES = { hfe: 64, "hfe.at": 1e-3, leakage: 4e-6, ft: 1e6, "limits.vce": 20, "limits.ic": 0.1 };
const type = (name: string, figures: Record<string, number>, more: Partial<DeviceType> = {}): DeviceType => ({
  name,
  device: "pnp",
  material: "germanium",
  figures: { ...FIGURES, ...figures },
  place: { file: "f", line: 1, column: 1 },
  ...more,
});
const wanted = type("A", {});
const differs = (figures: Record<string, number>, more: Partial<DeviceType> = {}) =>
  typesLike(wanted, [type("B", figures, more)], 1e-3).find((each) => each.type === "B")!;

describe("likeness of types", () => {
  it("is complete between a type and itself, for every transistor of the library", () => {
    for (const each of transistors) {
      const [first] = typesLike(each, transistors, 1e-3);
      expect(first).toMatchObject({ type: each.name, difference: 0, cautions: [] });
    }
  });

  it("counts 1 for a halved and for a doubled current gain", () => {
    expect(differs({ hfe: 32 }).difference).toBeCloseTo(1, 12);
    expect(differs({ hfe: 128 }).difference).toBeCloseTo(1, 12);
  });

  it("counts a shortfall more than an excess", () => {
    expect(differs({ ft: 5e5 }).difference).toBeCloseTo(0.5, 12);
    expect(differs({ ft: 2e6 }).difference).toBeCloseTo(0.2, 12);
    expect(differs({ "limits.vce": 10 }).difference).toBeCloseTo(1, 12);
    expect(differs({ "limits.vce": 40 }).difference).toBeCloseTo(0.1, 12);
    expect(differs({ "limits.ic": 0.05 }).difference).toBeCloseTo(0.5, 12);
    expect(differs({ leakage: 8e-6 }).difference).toBeCloseTo(0.25, 12);
  });

  it("counts another semiconductor 3, and 50 mV of V_BE 1", () => {
    const silicon = differs(
      { vbe: 0.12, "vbe.at": 1e-3, flicker: 1000, ccb: 3e-11 },
      { material: "silicon" },
    );
    expect(silicon.difference).toBeCloseTo(3, 6);
    expect(differs({ vbe: 0.17, "vbe.at": 1e-3 }).difference).toBeCloseTo(1, 6);
  });

  it("says what the other type does not do as well", () => {
    const worse = { "limits.vce": 12, "limits.ic": 0.05, ft: 3e5, flicker: 3e3 };
    expect(differs(worse).cautions).toEqual(["less voltage, current", "slower", "noisier"]);
    expect(differs({}, { material: "silicon" }).cautions).toContain("silicon: other bias");
    const turned = typesLike({ ...wanted, leads: "e b c" }, [type("B", {}, { leads: "c b e" })], 1e-3);
    expect(turned[1]?.cautions).toEqual(["other leads"]);
  });

  it("compares hfe at the current asked for, not at that of the sheet", () => {
    const falling = type("B", { hfe: 64, "hfe.at": 1e-3, hfe2: 32, "hfe2.at": 0.1 });
    const at = (amps: number) => typesLike(wanted, [falling], amps)[1]!.hfe;
    expect(at(1e-3)).toBeCloseTo(64, 9);
    expect(at(0.1)).toBeCloseTo(32, 9);
  });

  it("puts a germanium type of the same line nearest to OC71, and silicon far away", () => {
    const candidates = all.filter(({ device }) => device === "pnp");
    const names = typesLike(library.OC71!, candidates, 1e-3).map((each) => each.type);
    // common practice, no source: OC71 and OC75 came off one line and were sorted by gain
    expect(names.slice(0, 4)).toContain("OC75");
    expect(names.indexOf("BC558")).toBeGreaterThan(names.length / 2);
  });
});

describe("a list of types narrowed down", () => {
  const names = (filter: Parameters<typeof fits>[1]) =>
    all.filter((each) => fits(each, filter)).map((t) => t.name);

  it("holds only what meets all of the conditions", () => {
    const found = names({ devices: ["npn"], materials: ["germanium"], volts: 20, amps: 0.5 });
    expect(found).toEqual(["AD161"]);
  });

  it("knows a diode's reverse voltage and forward current", () => {
    expect(names({ devices: ["diode"], materials: ["germanium"], volts: 90 })).toEqual([
      "OA81",
      "OA85",
      "OA91",
      "OA95",
    ]);
  });

  it("leaves out what has no such limit", () => {
    expect(fits(type("B", {}), { volts: 20 })).toBe(true);
    const { "limits.vce": _, ...rest } = FIGURES;
    expect(fits({ ...wanted, figures: rest }, { volts: 1 })).toBe(false);
    expect(fits(library.OA81!, { ft: 1 })).toBe(false);
  });

  it("is everything without a condition", () => {
    expect(names({})).toHaveLength(all.length);
  });
});
