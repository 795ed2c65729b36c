import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { Random } from "../../src/bench/spread/random.ts";
import type { SpreadChart } from "../../src/bench/spread/results.ts";
import { type SpreadConditions, spread } from "../../src/bench/spread.ts";
import { circuitOf, expectNear } from "../outside/bench.ts";

/** The only mode's spread of `text`. */
function spreadOf(text: string, conditions: Partial<SpreadConditions> = {}): SpreadChart {
  const { results } = spread(circuitOf(text), { trials: 400, seed: 1, ...conditions });
  return results[0]!;
}

const DIVIDER = `circuit "divider"
battery B1 10 V plus top minus chassis
resistor R1 10k ±10% top to middle
resistor R2 10k ±10% middle to chassis
`;

const STAGE = readFileSync("netlists/common-emitter.netlist", "utf8");

/** Where R2/R1 of two resistors evenly spread over ±10 % is exceeded by 2.5 %: (1.1 − 0.9·q)² = 0.002·q. */
function ratioExceeded(): number {
  const [a, b, c] = [0.81, -(2 * 1.1 * 0.9 + 0.002), 1.21];
  return (-b - Math.sqrt(b * b - 4 * a * c)) / (2 * a);
}

describe("the random numbers", () => {
  // Source: xoshiro128starstar.c of Blackman and Vigna, run from the state 1, 2, 3, 4
  it("are those of the published generator", () => {
    const random = new Random([1, 2, 3, 4]);
    const drawn = Array.from({ length: 5 }, () => random.bits());
    expect(drawn).toEqual([11520, 0, 5927040, 70819200, 2031721883]);
  });

  it("are evenly distributed between −1 and 1: mean 0, variance 1/3, fourth moment 1/5", () => {
    const random = Random.seeded(7);
    const drawn = Array.from({ length: 100_000 }, () => random.even());
    const moment = (n: number) => drawn.reduce((sum, t) => sum + t ** n, 0) / drawn.length;
    expect(Math.max(...drawn.map(Math.abs))).toBeLessThan(1);
    expect(Math.abs(moment(1))).toBeLessThan(0.006);
    expectNear(moment(2), 1 / 3, 0.015);
    expectNear(moment(4), 1 / 5, 0.02);
  });

  it("differ from seed to seed from the first on", () => {
    const firsts = Array.from({ length: 1000 }, (_, seed) => Random.seeded(seed).bits());
    expect(new Set(firsts).size).toBe(1000);
  });
});

describe("the spread of a divider of two resistors of ±10 %", () => {
  const { nets } = spreadOf(DIVIDER, { trials: 20_000 });
  const middle = nets.middle!;

  it("has the limits that the distribution of their ratio has by hand", () => {
    const q = ratioExceeded();
    expect(Math.abs(middle.greatest_volts - (10 * q) / (1 + q))).toBeLessThan(0.006);
    expect(Math.abs(middle.least_volts - 10 / (1 + q))).toBeLessThan(0.006);
    expect(Math.abs(middle.typical_volts - 5)).toBeLessThan(0.006);
  });

  it("comes half from each of them", () => {
    expect(middle.causes.map(({ part }) => part).toSorted()).toEqual(["R1", "R2"]);
    for (const { share } of middle.causes) expect(share).toBeCloseTo(0.5, 3);
  });

  it("is the same where the causes are not asked for", () => {
    const { nets: bare } = spreadOf(DIVIDER, { trials: 20_000, causes: false });
    expect(bare).toEqual({ top: nets.top, middle: { ...middle, causes: [] } });
  });

  it("leaves what nothing varies where it is", () => {
    expect(nets.top).toMatchObject({ least_volts: 10, typical_volts: 10, greatest_volts: 10, causes: [] });
  });
});

// variance by hand: (∂V/∂R·R)²·tolerance²/3 for each resistor, with V = E·R2/(R1 + R2)
it("shares a divider's variance as its partial derivatives do", () => {
  const text = DIVIDER.replace("R1 10k ±10%", "R1 30k ±5%").replace("R2 10k ±10%", "R2 10k ±10%");
  const { causes } = spreadOf(text, { trials: 40 }).nets.middle!;
  const variance = { R1: 0.05 ** 2, R2: 0.1 ** 2 };
  const whole = variance.R1 + variance.R2;
  expect(causes.map(({ part }) => part)).toEqual(["R2", "R1"]);
  expectNear(causes[0]!.share, variance.R2 / whole, 0.01);
});

it("converges as one over the root of the number of trials", () => {
  const q = ratioExceeded();
  const exact = (10 * q) / (1 + q);
  const error = (trials: number) => {
    const squares = Array.from({ length: 30 }, (_, seed) => {
      const { greatest_volts } = spreadOf(DIVIDER, { trials, seed }).nets.middle!;
      return (greatest_volts - exact) ** 2;
    });
    return Math.sqrt(squares.reduce((sum, each) => sum + each, 0) / squares.length);
  };
  const ratio = error(100) / error(1600);
  // expected 4; a root mean square of 30 errors is itself known to an eighth
  expect(ratio).toBeGreaterThan(2.6);
  expect(ratio).toBeLessThan(6);
});

describe("specimens", () => {
  it("are the same for the same seed, and others for another", () => {
    expect(spreadOf(STAGE)).toEqual(spreadOf(STAGE));
    const [one, two] = [spreadOf(STAGE), spreadOf(STAGE, { seed: 2 })];
    expect(two.nets["T1.c"]!.typical_volts).not.toBe(one.nets["T1.c"]!.typical_volts);
  });

  it("are the same in every mode: what no switch moves has one band", () => {
    const { results } = spread(circuitOf(STAGE), { trials: 100, seed: 3 });
    expect(results).toHaveLength(2);
    expect(results[0]!.nets["T1.c"]!.typical_volts).toBe(results[1]!.nets["T1.c"]!.typical_volts);
  });

  it("are no specimens at all where everything is exact", () => {
    const text = DIVIDER.replaceAll(" ±10%", "");
    const found = spreadOf(text);
    expect(found.exact).toEqual(["R1", "R2"]);
    expect(found.nets.middle).toMatchObject({ least_volts: 5, greatest_volts: 5, causes: [] });
  });

  it("have the nominal value as their median, however lopsided the tolerance", () => {
    const text = DIVIDER.replace("R1 10k ±10%", "R1 10k").replace("R2 10k ±10%", "R2 10k -20% +100%");
    const { least_volts, typical_volts, greatest_volts } = spreadOf(text, { trials: 20_000 }).nets.middle!;
    expect(Math.abs(typical_volts - 5)).toBeLessThan(0.02);
    // R2 at 2.5 % and 97.5 %: 1 − 0.2·0.95 and 1 + 0.95
    expect(Math.abs(least_volts - (10 * 0.81) / 1.81)).toBeLessThan(0.01);
    expect(Math.abs(greatest_volts - (10 * 1.95) / 2.95)).toBeLessThan(0.02);
  });

  it("draw the battery evenly from its range", () => {
    const found = spreadOf(DIVIDER.replaceAll(" ±10%", ""), {
      trials: 20_000,
      batteries: { B1: { from: 4, to: 8 } },
    });
    const { least_volts, typical_volts, greatest_volts, causes } = found.nets.top!;
    expect([least_volts, typical_volts, greatest_volts].map((each) => Number(each.toFixed(1)))).toEqual([
      4.1, 6, 7.9,
    ]);
    expect(causes).toEqual([{ part: "B1", quantity: "emf", share: 1 }]);
  });

  it("spread collector currents more where they are warmer in summer and cooler in winter", () => {
    const width = (conditions: Partial<SpreadConditions>) => {
      const { least, greatest } = spreadOf(STAGE, conditions).transistors.T1!.ic_amps;
      return greatest - least;
    };
    expect(width({ ambient: { from: 0, to: 45 } })).toBeGreaterThan(1.02 * width({}));
  });

  // hfe between the limits of the type: base currents of a fixed bias by hand, I_C = hfe·I_B
  it("have current gains between the limits of their type", () => {
    const text = `circuit "fixed bias"
type PN pnp silicon
    hfe 100 at 1 mA
    spread 50 .. 200
    leakage 1 nA max 1 nA at 25 °C
    early 100 kV
battery B1 9 V plus chassis minus rail
resistor R1 4M rail to T1.b
resistor R2 100R rail to T1.c
transistor T1 PN e chassis
`;
    const { ic_amps } = spreadOf(text, { trials: 4000, isothermal: true }).transistors.T1!;
    const share = (amps: number) => ic_amps.typical / amps;
    // evenly over the logarithm: 2.5 % and 97.5 % points lie at 0.95 of a factor of 2
    expectNear(share(ic_amps.greatest), 2 ** 0.95, 0.03);
    expectNear(share(ic_amps.least), 2 ** -0.95, 0.03);
    expect(ic_amps.causes[0]).toMatchObject({ part: "T1", quantity: "hfe" });
  });
});

describe("printed voltages", () => {
  const printed = (volts: string) =>
    spreadOf(`${DIVIDER}printed as-drawn middle ${volts}\n`).nets.middle!.printed;

  it("are inside the band or outside", () => {
    expect(printed("5.2 V")).toEqual({ point: "middle", volts: 5.2, inside: true });
    expect(printed("6 V")?.inside).toBe(false);
  });

  it("may be rounded to two digits", () => {
    const exact = (volts: string) =>
      spreadOf(`${DIVIDER.replaceAll("±10%", "±0.1%")}printed as-drawn middle ${volts}\n`).nets.middle!
        .printed;
    expect(exact("5 V")?.inside).toBe(true);
    expect(exact("5.04 V")?.inside).toBe(true);
    expect(exact("5.1 V")?.inside).toBe(false);
  });
});

describe("aged parts", () => {
  it("are a third of an electrolytic and a carbon resistor 10 % up", () => {
    const text = `circuit "aged"
battery B1 10 V plus top minus chassis
resistor R1 10k ±10% top to middle
resistor R2 10k ±1% middle to chassis
electrolytic C1 100µ 10 V esr 1 ohm leakage 10 µA plus middle minus chassis
`;
    const volts = (aged: boolean) =>
      spreadOf(
        text.replaceAll(/ ±\d+%/g, (t) => (t.includes("10%") ? "" : t)),
        { aged },
      ).nets.middle!.typical_volts;
    const divided = (r1: number, leak: number) => 10 * (1 / (1e-4 + leak) / (r1 + 1 / (1e-4 + leak)));
    expectNear(volts(false), divided(10e3, 1e-6), 1e-3);
    expectNear(volts(true), divided(11e3, 1e-5), 1e-3);
  });
});

describe("trials that fail", () => {
  it("are counted, with the transistor that runs away", () => {
    const text = `circuit "hot"
type PN pnp germanium
    hfe 120 at 10 mA
    spread 60 .. 240
    leakage 20 µA max 200 µA at 25 °C
    limits tj 75 °C
    rth 0.1 K/mW
battery B1 9V plus chassis minus rail
resistor R1 1M rail to T1.b
resistor R2 10R rail to T1.c
wire T1.e to chassis
transistor T1 PN
`;
    const { failed, trials } = spreadOf(text, { trials: 200 });
    expect(failed).toEqual([{ kind: "thermal runaway", part: "T1", trials: expect.any(Number) }]);
    expect(failed[0]!.trials).toBeGreaterThan(0);
    expect(failed[0]!.trials).toBeLessThan(trials);
  });
});
