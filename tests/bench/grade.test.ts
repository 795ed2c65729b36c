import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Grade, type Grades, grade, mismatch, type Tested } from "../../src/bench/grade.ts";
import { sampleOf } from "../../src/bench/sample.ts";
import { type TestCircuit, testReadings } from "../../src/bench/transistor-test.ts";
import { voltages } from "../../src/bench/voltages.ts";
import type { DeviceType } from "../../src/circuit/circuit.ts";
import { libraryTypes, readNetlist } from "../../src/language/index.ts";
import { writeType } from "../../src/language/write-type.ts";

const GERMANIUM: DeviceType = {
  name: "sample",
  device: "pnp",
  material: "germanium",
  figures: {},
  place: { file: "", line: 1, column: 1 },
};
const TEST: TestCircuit = { supplyVolts: 9, collectorOhms: 2472, baseOhms: 2.2e6, celsius: 25 };

const tested = (openAmps: number, fedAmps: number, more: Partial<Tested> = {}): Tested => ({
  sample: "S1",
  test: TEST,
  readings: { openAmps, fedAmps },
  type: GERMANIUM,
  marked: false,
  ...more,
});

const only = (grades: Grades): Grade => {
  expect(grades.refused).toEqual([]);
  return grades.results[0]!;
};

/** The test circuit as a bench would draw it, the block of the sample pasted in. */
const circuitOf = (block: string, name: string, npn: boolean, base: string, test: TestCircuit) => `
circuit "transistor test"
ambient ${test.celsius} °C
${block}
battery B1 ${test.supplyVolts} V ${npn ? "plus rail minus chassis" : "plus chassis minus rail"}
transistor T1 ${name} e chassis
resistor R1 ${test.collectorOhms} ohm rail to T1.c
${base}
`;

/** Collector current of the block read back and solved as any netlist is, A. */
function solved({ type, device }: Pick<Grade, "type" | "device">, test: TestCircuit, fed: boolean): number {
  const base = fed ? `resistor R2 ${test.baseOhms} ohm rail to T1.b` : "capacitor C1 1n T1.b to chassis";
  const text = circuitOf(writeType(type), type.name, device === "npn", base, test);
  const { circuit, diagnostics } = readNetlist(text);
  expect(diagnostics.filter(({ severity }) => severity === "error")).toEqual([]);
  return Math.abs(voltages(circuit!).results[0]!.transistors.T1!.ic_amps);
}

describe("grading a transistor by hand", () => {
  // R. G. Keen's method for leaky germanium transistors (imagetechintl.com/article/11119): 9 V, 2.472 kΩ,
  // 2.2 MΩ, 0.1 V for V_BE; 93 µA of leakage and 1.330 V with the base fed, worked out by the same formula
  const keen = only(grade([tested(93e-6, 1.33 / 2472)]));

  it("finds the hfe of 110.0 that Keen's test leaves after the leakage is taken off", () => {
    expect(keen.measured.hfe).toBeGreaterThan(109.95);
    expect(keen.measured.hfe).toBeLessThan(110.05);
  });

  it("says that the naive figure, 133, is 21 % too high", () => {
    expect(keen.naive_hfe).toBeCloseTo(133, 0);
    expect(keen.naive_error).toBeCloseTo(0.21, 2);
  });

  it("estimates I_CBO as I_CEO/(1 + hfe): 0.84 µA", () => {
    expect(keen.measured.icbo_amps).toBeCloseTo(0.84e-6, 8);
  });

  it("changes nothing at 25 °C, and at 34 °C halves I_CBO of germanium (doubling each 9 K)", () => {
    expect(keen.at_25).toEqual(keen.measured);
    const warm = only(grade([tested(93e-6, 1.33 / 2472, { test: { ...TEST, celsius: 34 } })]));
    expect(warm.at_25.icbo_amps).toBeCloseTo(warm.measured.icbo_amps / 2, 15);
    // docs/models.md: gain as T^1.5
    expect(warm.at_25.hfe).toBeCloseTo(warm.measured.hfe * (298.15 / 307.15) ** 1.5, 9);
  });
});

describe("the type block of a sample", () => {
  it("reads back, and solved in the test circuit gives both readings to 1e-6", () => {
    const readings = fc.record({
      open: fc.double({ min: 2e-6, max: 600e-6, noNaN: true }),
      hfe: fc.double({ min: 15, max: 250, noNaN: true }),
      celsius: fc.double({ min: 10, max: 35, noNaN: true }),
      npn: fc.boolean(),
    });
    fc.assert(
      fc.property(readings, ({ open, hfe, celsius, npn }) => {
        const test = { ...TEST, celsius };
        const fed = open + hfe * 4.045e-6;
        fc.pre(fed < 3.2e-3);
        const type: DeviceType = { ...GERMANIUM, device: npn ? "npn" : "pnp" };
        const one = only(grade([tested(open, fed, { test, type })]));
        expect(Math.abs(solved(one, test, false) / open - 1)).toBeLessThan(1e-6);
        expect(Math.abs(solved(one, test, true) / fed - 1)).toBeLessThan(1e-6);
      }),
      { numRuns: 40 },
    );
  });

  it("of a library type does so with its self-heating, its fall of hfe and its output conductance", () => {
    const library = libraryTypes();
    for (const name of ["OC71", "AC126", "AC127", "BC557"]) {
      const type = library[name]!;
      const [open, fed] = type.material === "silicon" ? [1e-8, 1.2e-3] : [120e-6, 700e-6];
      const one = only(grade([tested(open, fed, { type, marked: true, sample: "bin_7" })]));
      expect(one).toMatchObject({ like: name, device: type.device });
      expect(Math.abs(solved(one, TEST, false) / open - 1), name).toBeLessThan(1e-6);
      expect(Math.abs(solved(one, TEST, true) / fed - 1), name).toBeLessThan(1e-6);
    }
  });

  it("is the sample that was measured: hfe and leakage put into the model come out again", () => {
    const figures = { hfe: 84, "hfe.at": 1e-3, leakage: 2.5e-6, "leakage.at": 25 };
    const readings = testReadings(TEST, { ...GERMANIUM, figures })!;
    const found = sampleOf(TEST, readings, GERMANIUM, "S1")!.type.figures;
    expect(found.hfe).toBeCloseTo(84, 5);
    expect(found.leakage! * 1e6).toBeCloseTo(2.5, 5);
  });

  it("has no spread, and says that it was measured", () => {
    const one = only(grade([tested(93e-6, 5e-4, { type: libraryTypes().OC71!, marked: true })]));
    expect(Object.keys(one.type.figures).filter((key) => key.startsWith("spread"))).toEqual([]);
    expect(one.type.source).toMatch(/^hfe and leakage measured; the rest of OC71/);
  });

  it("has a higher V_BE where the sample leaks less than the junctions of its type alone would", () => {
    const one = only(grade([tested(2e-6, 4e-4)]));
    expect(one.raised_vbe_volts).toBeGreaterThan(0.12);
    expect(one.type.figures.vbe).toBe(one.raised_vbe_volts);
  });

  it("of silicon without any leakage to be seen has the least that there can be", () => {
    const silicon: DeviceType = { ...GERMANIUM, device: "npn", material: "silicon" };
    const one = only(grade([tested(0, 1e-3, { type: silicon })]));
    expect(Math.abs(solved(one, TEST, true) / 1e-3 - 1)).toBeLessThan(1e-6);
    expect(solved(one, TEST, false)).toBeLessThan(1e-9);
  });
});

describe("the verdict", () => {
  // limits of I_CEO: R. G. Keen's test: 100 µA common, 200 often, above 300 suspect, above 500 bad
  it.each([
    [100e-6, "good"],
    [199e-6, "good"],
    [201e-6, "high"],
    [499e-6, "high"],
    [501e-6, "condemned"],
  ])("on %f A of I_CEO is %s", (open, leakage) => {
    const { verdict } = only(grade([tested(open, open + 4e-4)]));
    expect(verdict.leakage).toBe(leakage);
    expect(verdict.sources.join()).toContain("Keen");
  });

  it("places hfe below, inside and above the spread of the type", () => {
    const type: DeviceType = {
      ...GERMANIUM,
      name: "PX",
      figures: { hfe: 80, "hfe.at": 1e-3, "spread.least": 50, "spread.greatest": 120 },
    };
    const hfe = (fed: number) => only(grade([tested(50e-6, fed, { type, marked: true })])).verdict.hfe;
    expect([hfe(150e-6), hfe(400e-6), hfe(900e-6)]).toEqual(["weak", "inside", "strong"]);
  });

  it("asks the sheet's greatest leakage too, and the worse of the two counts", () => {
    const type: DeviceType = {
      ...GERMANIUM,
      name: "PX",
      figures: { leakage: 0.3e-6, "leakage.max": 0.5e-6 },
    };
    const { verdict } = only(grade([tested(93e-6, 1.33 / 2472, { type, marked: true })]));
    expect(verdict.leakage).toBe("high");
    expect(verdict.reasons.join()).toContain("above the 0.5 µA of PX");
  });

  it("leaves the limits of small transistors out for power types", () => {
    const type: DeviceType = { ...GERMANIUM, name: "PW", figures: { "limits.ptot": 6 } };
    const { verdict } = only(grade([tested(900e-6, 1.4e-3, { type, marked: true })]));
    expect(verdict).not.toHaveProperty("leakage");
  });
});

describe("readings that no transistor gives", () => {
  it.each([
    ["more than the supply", 4e-3, 5e-3, /more than the supply of 9 V/],
    ["less than nothing", -1e-6, 5e-4, /below nothing/],
    ["less with the base fed", 4e-4, 3e-4, /no more collector current/],
    ["the same with the base fed", 4e-4, 4e-4, /no more collector current/],
    ["a saturated transistor", 1e-4, 3.6e-3, /saturated and hides its hfe/],
    ["a shorted transistor", 3.62e-3, 3.63e-3, /conducts without being told to/],
    ["germanium without leakage", 0, 4e-4, /no germanium transistor leaks nothing/],
    ["an hfe of one", 1e-4, 1.04e-4, /no transistor's/],
  ])("are refused with the reason: %s", (_, open, fed, message) => {
    const { results, refused } = grade([tested(open, fed)]);
    expect(results).toEqual([]);
    expect(refused).toMatchObject([{ sample: "S1", message, hint: expect.any(String) }]);
  });

  it("are refused where the hfe is more than a transistor has", () => {
    const test = { ...TEST, baseOhms: 100e6 };
    expect(grade([tested(1e-5, 6e-4, { test })]).refused[0]?.message).toMatch(/more than a single/);
  });

  it("do not keep the others from being graded", () => {
    const grades = grade([tested(1e-4, 5e-4), tested(5e-4, 1e-4, { sample: "S2" })]);
    expect(grades.results.map(({ sample }) => sample)).toEqual(["S1"]);
    expect(grades.refused.map(({ sample }) => sample)).toEqual(["S2"]);
  });
});

describe("several samples", () => {
  const drawer = [110, 60, 112, 61, 200].map((hfe, k) =>
    tested(5e-5, 5e-5 + hfe * 4e-6, { sample: `S${k}` }),
  );

  it("come sorted by hfe, with the nearest ones paired and the odd one left", () => {
    const { results, pairsExact } = grade(drawer);
    expect(results.map(({ sample }) => sample)).toEqual(["S4", "S2", "S0", "S3", "S1"]);
    expect(results.map(({ pair }) => pair?.with)).toEqual([undefined, "S0", "S2", "S1", "S3"]);
    expect(pairsExact).toBe(true);
    expect(results[1]?.pair?.hfe_ratio).toBeCloseTo(112 / 110, 6);
  });

  it("make no pair of different polarity, of different types, or with a condemned one", () => {
    const [a, b] = grade([tested(5e-5, 5e-4), tested(5e-5, 5e-4, { sample: "S2" })]).results;
    expect(mismatch(a!, b!)).toBe(0);
    expect(mismatch(a!, { ...b!, device: "npn" })).toBe(Infinity);
    expect(mismatch(a!, { ...b!, like: "OC71" })).toBe(Infinity);
    expect(mismatch(a!, { ...b!, verdict: { ...b!.verdict, leakage: "condemned" } })).toBe(Infinity);
  });
});
