import { describe, expect, it } from "vitest";
import { adjust, type Condition, readNetlist, spread } from "../../src/index.ts";

const { circuit } = readNetlist(`circuit "divider"
battery B1 10 V plus top minus chassis
resistor R1 10k ±10% top to middle
resistor R2 10k ±10% middle to chassis
`);
const divider = circuit!;
const middle = divider.nets.findIndex(({ name }) => name === "middle");
const condition: Condition = {
  text: "middle = 4 V",
  looked: { kind: "voltage", net: middle, minus: 0 },
  aim: "equal",
  target: 4,
};

describe("as a library", () => {
  it("spread takes 2000 specimens of seed 1 if nothing is said", () => {
    const [chart] = spread(divider).results;
    expect(chart).toMatchObject({ mode: "as-drawn", trials: 2000, seed: 1, failed: [] });
    expect(() => spread(divider, { trials: 0.5 })).toThrow(RangeError);
    expect(() => spread(divider, { batteries: { B2: { from: 1, to: 2 } } })).toThrow('no battery "B2"');
  });

  it("adjust turns a part over its range or the one given", () => {
    expect(adjust(divider, { part: "R1" }, condition).results[0]!.value).toBeCloseTo(15e3, 6);
    expect(adjust(divider, { part: "R1", to: 12e3 }, condition).results[0]!.met).toBe(false);
    expect(() => adjust(divider, { part: "R1", from: 5, to: 4 }, condition)).toThrow("no range from 5 to 4");
    expect(() => adjust(divider, { part: "R1", key: "esr" }, condition)).toThrow("R1 has no esr to turn");
    expect(() => adjust(divider, { part: "R9" }, condition)).toThrow('no part "R9"');
  });
});
