import { describe, expect, it } from "vitest";
import { waveformOf } from "./run.ts";

/** The transistor has charges of its own only while it conducts; perfect coupling ties collector to base. */
const BLOCKING = `circuit "blocking oscillator"
use library
battery B1 9 V plus chassis minus rail
transistor T1 AC128 e chassis b base c col
transformer TR1 magnetising 5 mH on p
    winding p 100 turns dcr 1 ohm rail to col
    winding s 20 turns dcr 0.5 ohm base to feed
resistor R1 4k7 feed to rail
capacitor C1 220n feed to chassis
diode D1 OA81 anode col cathode rail
resistor R2 220 col to rail
`;

describe("A stage that cuts off from one moment to the next", () => {
  it("is followed through, also where the charge that ruled it vanishes", () => {
    const { nets, readings } = waveformOf(BLOCKING, { seconds: 5e-3 });
    expect(readings.col!.periodic?.hertz).toBeGreaterThan(1e3);
    // saturated within 0.1 V of the emitter, and thrown beyond twice the supply
    expect(Math.max(...nets.col!)).toBeGreaterThan(-0.1);
    expect(Math.min(...nets.col!)).toBeLessThan(-18);
  });
});
