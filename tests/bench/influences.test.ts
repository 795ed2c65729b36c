import { describe, expect, it } from "vitest";
import { influences } from "../../src/bench/influences.ts";
import { readNetlist } from "../../src/language/index.ts";

const read = (text: string) => readNetlist(text).circuit!;

describe("the influences on a figure", () => {
  it("of a divider are what its resistors do at the end of their tolerance", () => {
    const circuit = read(`circuit "divider"
battery B1 10V plus rail minus chassis
resistor R1 1k ±1% rail to mid
resistor R2 1k ±2% mid to chassis
`);
    const { nets } = influences(circuit).results[0]!;
    // derivative of the divider: V/4 for a relative change of either; central differences leave second order out
    expect(nets.mid!.map(({ part }) => part)).toEqual(["R2", "R1"]);
    expect(nets.mid![0]!.change).toBeCloseTo((10 / 4) * 0.02, 5);
    expect(nets.mid![1]!.change).toBeCloseTo((-10 / 4) * 0.01, 5);
    expect(nets.rail).toEqual([]);
  });

  it("leave out what is without tolerance", () => {
    const circuit = read(`circuit "exact"
battery B1 10V plus rail minus chassis
resistor R1 1k rail to mid
resistor R2 1k mid to chassis
`);
    expect(influences(circuit).results[0]!.nets.mid).toEqual([]);
  });
});
