import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { voltages } from "../../src/bench/voltages.ts";
import { build } from "./build.ts";
import { randomAmplifier } from "./random-circuits.ts";

const RUNS = 10_000;

/** Every number of a result, however deep. */
function* numbersOf(data: unknown): Generator<number> {
  if (typeof data === "number") yield data;
  else if (typeof data === "object" && data !== null)
    for (const inner of Object.values(data)) yield* numbersOf(inner);
}

describe("ten thousand random circuits", () => {
  it("each give a converged point or a named failure, and hardly any fails but by its own heat", () => {
    let notConverged = 0;
    const circuits = fc.sample(randomAmplifier, { numRuns: RUNS, seed: 1962 });
    for (const { drafts, types } of circuits) {
      const { results, failures } = voltages(build(drafts, types));
      expect(results.length + failures.length).toBe(1);
      for (const chart of results) {
        const largest = Math.max(0, ...Object.values(chart.parts).map(({ amps }) => Math.abs(amps)));
        expect(chart.residual_amps).toBeLessThanOrEqual(1e-12 + 1e-9 * largest);
        for (const value of numbersOf(chart)) expect(Number.isFinite(value)).toBe(true);
      }
      for (const { kind, message, part, net } of failures) {
        expect(message).toContain("mode as-drawn");
        expect(part ?? net).toBeDefined();
        if (kind !== "thermal runaway") notConverged++;
      }
    }
    expect(notConverged).toBeLessThanOrEqual(0.005 * RUNS);
  }, 120_000);
});
