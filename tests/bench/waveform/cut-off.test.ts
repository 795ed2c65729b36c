import { describe, expect, it } from "vitest";
import { follow } from "../../../src/bench/waveform/follow.ts";
import { readNetlist } from "../../../src/index.ts";
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

/** Nothing but the charge of a conducting junction is stored at the emitter: cut off, the net follows at once. */
const SQUEGGING = `circuit "squegging oscillator"
use library
battery B1 6 V plus rail minus chassis
transistor T1 2N1306 c col e em b base
transformer TR1 magnetising 200 µH on tank coupling 0.95
    winding tank 50 turns dcr 1 ohm rail to col
    winding back 25 turns dcr 1 ohm base to foot
capacitor C1 1n col to rail
resistor R1 47k rail to foot
capacitor C2 220n foot to chassis
resistor R2 100R em to chassis
`;

/** Steps of a run from rest. */
function stepsOf(text: string, seconds: number): number {
  const { circuit } = readNetlist(text);
  const start = { from: "rest", displaced: [] } as const;
  const conditions = { seconds, every: seconds / 100, start, tones: [], events: [], shown: [] };
  const steps = follow(circuit!, { name: "as-drawn", states: [] }, conditions);
  let count = 0;
  while (steps.next().done !== true) count++;
  return count;
}

describe("A stage that cuts off from one moment to the next", () => {
  it("is followed through, also where the charge that ruled it vanishes", () => {
    const { nets, readings } = waveformOf(BLOCKING, { seconds: 5e-3 });
    expect(readings.col!.periodic?.hertz).toBeGreaterThan(1e3);
    // saturated within 0.1 V of the emitter, and thrown beyond twice the supply
    expect(Math.max(...nets.col!)).toBeGreaterThan(-0.1);
    expect(Math.min(...nets.col!)).toBeLessThan(-18);
  });

  it("is not kept to short steps by a current that its vanished charge has left behind", () => {
    // some thirty periods of 350 kHz with the ringing of stray inductance; three times as many where that current stays
    expect(stepsOf(SQUEGGING, 1e-4)).toBeLessThan(15_000);
  });
});
