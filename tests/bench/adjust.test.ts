import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { knobOf } from "../../src/bench/adjust/knob.ts";
import { least, roots, scan } from "../../src/bench/adjust/search.ts";
import { adjust } from "../../src/bench/adjust.ts";
import type { Conditions } from "../../src/bench/conditions.ts";
import { oscillationFrequency } from "../../src/bench/oscillation.ts";
import { nearestPreferred, PREFERRED_SERIES } from "../../src/bench/preferred-values.ts";
import { root } from "../../src/bench/root.ts";
import { readUntil } from "../../src/cli/until.ts";
import { circuitOf, expectNear } from "../outside/bench.ts";

function turned(text: string, name: string, until: string, conditions: Conditions = {}) {
  const circuit = circuitOf(text);
  const [partName, key] = name.split(".");
  const part = circuit.parts.find((each) => each.name === partName)!;
  const answer = adjust(circuit, knobOf(part, circuit, key)!, readUntil(until, circuit), conditions);
  return { ...answer, first: answer.results[0]! };
}

const DIVIDER = `circuit "divider"
battery B1 10 V plus top minus chassis
resistor R1 10k top to middle
resistor R2 10k middle to chassis
`;

const LOW_PASS = `circuit "low pass"
generator G1 1 V in to chassis
resistor R1 10k in to out
capacitor C1 1n out to chassis
path low in as-drawn from G1 to out
`;

describe("a condition is met to 1e-6", () => {
  it("by a resistor of a divider, as by hand", () => {
    const { first } = turned(DIVIDER, "R2", "middle = 7 V");
    expectNear(first.value!, (7 / 3) * 10e3, 1e-8);
    expectNear(first.achieved, 7, 1e-8);
    expect(first).toMatchObject({ met: true, others: [], preferred_value: 22e3 });
  });

  it("by a current and by a battery", () => {
    expectNear(turned(DIVIDER, "R1", "R2 current = 0.25 mA").first.value!, 30e3, 1e-8);
    expectNear(turned(DIVIDER, "B1", "middle = 3 V").first.value!, 6, 1e-8);
  });

  it("by the setting of a potentiometer, whatever its law", () => {
    for (const law of ["linear", "log", "antilog"]) {
      const text = `circuit "volume"
battery B1 10 V plus top minus chassis
potentiometer P1 10k ${law} chassis to wiper to top
`;
      const { first } = turned(text, "P1", "wiper = 2 V");
      const share = {
        linear: 0.2,
        log: Math.log(17) / Math.log(81),
        antilog: 1 - Math.log(65) / Math.log(81),
      }[law]!;
      expectNear(first.setting!, share, 1e-7);
    }
  });

  it("by a gain, in dB or as a ratio", () => {
    const expected = (10e3 * (1 - 0.5)) / 0.5;
    const text = `${LOW_PASS.replace("capacitor C1 1n", "resistor R2 4k7")}`;
    expectNear(turned(text, "R2", "gain low at 1kHz = 0.5").first.value!, expected, 1e-7);
    expectNear(turned(text, "R2", "gain low at 1kHz = -6.020599913279624 dB").first.value!, expected, 1e-7);
  });

  // |H|² = 1/(1 + (f/fc)²) falls to half its value at 1 kHz where f² = fc² + 2·(1 kHz)²
  it("by a −3 dB point", () => {
    const { first } = turned(LOW_PASS, "C1", "upper -3dB of low = 12 kHz");
    const corner = Math.sqrt(12e3 ** 2 - 2 * 1e3 ** 2);
    expectNear(first.value!, 1 / (2 * Math.PI * 10e3 * corner), 1e-7);
    expectNear(first.achieved, 12e3, 1e-8);
  });

  it("by collector current and voltage of a transistor, counted the way its arrow points", () => {
    const text = readFileSync("netlists/recorder.netlist", "utf8");
    const { first } = turned(text, "P2", "T6.ic = 5 mA", { modes: ["play"] });
    expectNear(first.achieved, 5e-3, 1e-8);
    expectNear(turned(text, "R9", "T1.c = -4.5 V", { modes: ["play"] }).first.achieved, -4.5, 1e-8);
  });
});

// a series circuit is least at ω²LC = 1, whatever its resistance
const TRAP = `circuit "trap"
generator G1 1 V source 1k in to chassis
resistor R1 1k in to out
inductor L1 9mH dcr 25 ohm setting 20% from 6mH to 12mH out to foot
capacitor C1 1n foot to chassis
`;

describe("a minimum", () => {
  it("of a trap lies at its resonance", () => {
    const { first } = turned(TRAP, "L1", "least |out| at 52kHz");
    const henries = 1 / ((2 * Math.PI * 52e3) ** 2 * 1e-9);
    expectNear(6e-3 + first.setting! * 6e-3, henries, 1e-6);
  });

  it("is at the end further from it for the greatest", () => {
    expect(turned(TRAP, "L1", "greatest |out| at 52kHz").first.setting).toBe(0);
  });
});

describe("a condition at the oscillation", () => {
  const recorder = readFileSync("netlists/recorder.netlist", "utf8");
  const until = "least |trap| at oscillation from K2";

  it("is looked at in the mode that oscillates, at the frequency found there", () => {
    const { results, first } = turned(recorder, "L2", until);
    const hertz = oscillationFrequency(circuitOf(recorder), "record")!;
    expect(results).toMatchObject([{ mode: "record", met: true, oscillation_hertz: hertz }]);
    const plain = turned(recorder, "L2", until.replace("oscillation", `${hertz}Hz`), { modes: ["record"] });
    expectNear(first.setting!, plain.first.setting!, 1e-9);
    // L2 from 6 to 12 mH with 1 nF across; wiring capacitances shift the least a little
    const resonance = 1 / (2 * Math.PI * Math.sqrt((6e-3 + 6e-3 * first.setting!) * 1e-9));
    expectNear(resonance, hertz, 0.01);
  });

  it("is refused in a mode in which nothing oscillates", () => {
    const { results, failures } = turned(recorder, "L2", until, { modes: ["play"] });
    expect(results).toEqual([]);
    expect(failures[0]?.message).toBe(`mode play: nothing oscillates, so ${until} has no frequency`);
  });
});

describe("what cannot be met", () => {
  it("is said, with how near it comes and where", () => {
    const { first, failures } = turned(DIVIDER, "R2", "middle = 11 V");
    expect(first.met).toBe(false);
    expectNear(first.value!, 1e6, 1e-9);
    expectNear(first.achieved, (10 * 1e6) / 1.01e6, 1e-9);
    expect(failures[0]?.message).toBe("mode as-drawn: nothing in the range of R2 meets middle = 11 V");
  });

  it("is nowhere near if the part has nothing to do with it", () => {
    const { first } = turned(`${DIVIDER}resistor R3 1k top to chassis\n`, "R3", "middle = 4 V");
    expect(first).toMatchObject({ met: false });
    expectNear(first.achieved, 5, 1e-9);
  });
});

it("names all places that meet a condition, that nearest to the present one first", () => {
  const { first } = turned(TRAP, "L1", "|out| at 52kHz = -20 dB");
  const reactance = (setting: number) =>
    2 * Math.PI * 52e3 * (6e-3 + 6e-3 * setting) - 1 / (2 * Math.PI * 52e3 * 1e-9);
  // |r + jX| = |R + r + jX|/10 with R = 1 kΩ in the line and again in the source, r = 25 Ω
  const x = Math.sqrt((2025 ** 2 - 100 * 25 ** 2) / 99);
  expect(first.others).toHaveLength(1);
  expectNear(reactance(first.setting!), -x, 1e-6);
  expectNear(reactance(first.others[0]!), x, 1e-6);
});

describe("the search", () => {
  it("finds a root to the last bits and refuses a jump", () => {
    expect(root((x) => x * x - 2, 1, 2, 1e-15)).toBeCloseTo(Math.SQRT2, 14);
    expect(root((x) => (x < 0.3 ? -1 : 1), 0, 1, 1e-9)).toBeUndefined();
    expect(root((x) => (x < 0.5 ? undefined : x - 0.7), 0, 1, 1e-9)).toBeUndefined();
  });

  it("finds both roots beside a turn between two samples", () => {
    const f = (x: number) => (x - 0.503) ** 2 - 1e-6;
    const found = roots(f, scan(f, 11), 1e-12);
    expect(found.map((x) => Number(x.toFixed(6)))).toEqual([0.502, 0.504]);
  });

  it("finds the least where there are gaps", () => {
    const f = (x: number) => (x < 0.2 ? undefined : (x - 0.6123) ** 2);
    expect(least(f, scan(f, 21))).toBeCloseTo(0.6123, 6);
  });
});

describe("preferred values", () => {
  // Source: IEC 60063:2015, table of the series E6, E12 and E24
  it("are those of IEC 60063", () => {
    expect(PREFERRED_SERIES.E6).toEqual([1, 1.5, 2.2, 3.3, 4.7, 6.8]);
    expect(PREFERRED_SERIES.E12).toEqual([1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2]);
    expect(PREFERRED_SERIES.E24).toHaveLength(24);
  });

  it("are nearest by ratio, across decades, and exact", () => {
    expect(nearestPreferred(4690, "E12")).toBe(4700);
    expect(nearestPreferred(9.4, "E6")).toBe(10);
    expect(nearestPreferred(0.82e-9, "E6")).toBe(0.68e-9);
    expect(nearestPreferred(4.7e-9, "E24")).toBe(4.7e-9);
  });

  it("are themselves their nearest", () => {
    for (const series of ["E6", "E12", "E24"] as const) {
      for (const number of PREFERRED_SERIES[series]) expect(nearestPreferred(number, series)).toBe(number);
    }
  });
});
