import { describe, expect, it } from "vitest";
import { chart, demo } from "./demo.ts";
import { growing, naturalFrequencies } from "./natural.ts";

const regulator = demo("motor-regulator");

const CONDITIONS = [
  [9, 25],
  [6.75, 25],
  [4.5, -20],
  [9, 60],
] as const;

const battery = (volts: number) => [{ part: "B1", key: "emf", value: volts }];

describe("the demonstration motor regulator", () => {
  it.each(CONDITIONS)(
    "oscillates near 119 kHz while the contact is open, at %d V and %d °C",
    (volts, celsius) => {
      const found = growing(naturalFrequencies(regulator, "slow", battery(volts), celsius));
      expect(found).toHaveLength(1);
      expect(found[0]?.hertz).toBeGreaterThan(110e3);
      expect(found[0]?.hertz).toBeLessThan(130e3);
    },
  );

  it.each(CONDITIONS)("falls silent when the contact closes, at %d V and %d °C", (volts, celsius) => {
    expect(growing(naturalFrequencies(regulator, "fast", battery(volts), celsius))).toEqual([]);
  });

  it("keeps the pass transistor off without oscillation, hot ones included", () => {
    for (const ambientCelsius of [-20, 25, 45, 60]) {
      const { T3 } = chart(regulator, "fast", { ambientCelsius }).transistors;
      expect(Math.abs(T3?.ic_amps ?? 1)).toBeLessThan(0.02);
    }
  });

  it("opens the pass transistor on the voltage that the detector makes of the oscillation", () => {
    const detected = regulator.parts.find(({ name }) => name === "D1")?.pins[0]?.net ?? 0;
    const oscillating = {
      ...regulator,
      parts: [
        ...regulator.parts,
        {
          name: "B9",
          kind: "battery",
          pins: [
            { name: "plus", net: 0 },
            { name: "minus", net: detected },
          ],
          values: { emf: 2.5, internal: 100 },
          choices: {},
          place: { file: "", line: 1, column: 1 },
        },
      ],
    };
    const { T3 } = chart(oscillating, "slow").transistors;
    expect(Math.abs(T3?.vce_volts ?? 9)).toBeLessThan(0.5);
    expect(Math.abs(T3?.ic_amps ?? 0)).toBeGreaterThan(0.2);
  });
});
