import { describe, expect, it } from "vitest";
import { waveformOf } from "./run.ts";

const COIL = `battery B1 6 V plus a minus chassis
switch S1 closed open
    pole p a closed b
inductor L1 1 H dcr 60 ohm b to chassis
`;
const opened = [{ seconds: 0.05, what: "S1=open", states: [{ part: "S1", key: "position", value: "open" }] }];
const marksOf = (text: string) =>
  waveformOf(text, { seconds: 0.1, start: { from: "point", displaced: [] }, events: opened }).marks;

describe("A coil whose switch opens", () => {
  it("is marked where its current has nowhere to go: on the bench that is a spark", () => {
    expect(marksOf(COIL)).toEqual([
      { what: "S1=open", seconds: 0.05 },
      { what: "current of L1 breaks off", seconds: 0.05 },
    ]);
  });

  it("is not marked where a capacitor, a resistor or another winding takes the current over", () => {
    const winding = `transformer TR1 magnetising 1 H on p
    winding p 100 turns dcr 60 ohm b to chassis
    winding s 50 turns c to chassis
resistor R1 100R c to chassis
`;
    for (const more of ["capacitor C1 1n b to chassis\n", "resistor R1 10k b to chassis\n"])
      expect(marksOf(COIL + more)).toHaveLength(1);
    expect(marksOf(COIL.replace(/inductor.*\n/, winding))).toHaveLength(1);
  });

  it("is marked for a transformer without any load", () => {
    const bare = `transformer TR1 magnetising 1 H on p
    winding p 100 turns dcr 60 ohm b to chassis
`;
    expect(marksOf(COIL.replace(/inductor.*\n/, bare))).toHaveLength(2);
  });
});
