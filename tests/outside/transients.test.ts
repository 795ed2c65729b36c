/**
 * Our runs in time against those of an independent implementation: docs/models.md written down in another language,
 * integrated by Radau IIA of scipy with a tolerance of 1e-9 (scripts/reference/transients.py).
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { PlannedEvent } from "../../src/bench/waveform/conditions.ts";
import { waveform } from "../../src/bench/waveform.ts";
import { readNetlist } from "../../src/language/index.ts";

interface Run {
  readonly name: string;
  readonly netlist: string;
  readonly seconds: number;
  readonly samples: number;
  readonly start: "rest" | "point";
  /** Source, Hz, V rms. */
  readonly tones?: readonly (readonly [string, number, number])[];
  /** Seconds, part, key and its value from then on: a switch turned, an EMF, a motor's load. */
  readonly events?: readonly (readonly [number, string, string, string | number])[];
  /** By net, V; by motor, rpm. */
  readonly values: Readonly<Record<string, readonly number[]>>;
}

const { results } = JSON.parse(readFileSync(new URL("transients.json", import.meta.url), "utf8")) as {
  results: readonly Run[];
};

/** Allowed difference and tolerance asked for, both as shares of a net's swing. */
const CASES = [
  { within: 1e-4, tolerance: 1e-5 },
  { within: 1e-3, tolerance: 1e-4 },
];

const planned = ({ events = [] }: Run): PlannedEvent[] =>
  events.map(([seconds, part, key, value]) => ({
    seconds,
    what: `${part}.${key}=${value}`,
    states: [{ part, key, value }],
  }));

function ours(run: Run, tolerance: number) {
  const { circuit, diagnostics } = readNetlist(run.netlist);
  if (circuit === undefined) throw new Error(diagnostics[0]?.message);
  const { results: found, failures } = waveform(circuit, {
    seconds: run.seconds,
    every: run.seconds / run.samples,
    start: { from: run.start, displaced: [] },
    tones: (run.tones ?? []).map(([part, hertz, volts]) => ({ part, hertz, volts })),
    events: planned(run),
    shown: [],
    tolerance,
    isothermal: true,
  });
  expect(failures).toEqual([]);
  return { seconds: found[0]!.seconds, values: { ...found[0]!.nets, ...found[0]!.speeds_rpm } };
}

describe("runs in time", () => {
  it("of at least ten circuits are there to compare with", () => {
    expect(results.length).toBeGreaterThanOrEqual(10);
  });

  for (const { within, tolerance } of CASES) {
    it.each(results.map(({ name }) => name))(
      `of %s agree to about ${within} of each unknown's swing with a tolerance of ${tolerance}`,
      (name) => {
        const run = results.find((each) => each.name === name)!;
        const { values, seconds } = ours(run, tolerance);
        const jumps = [...(run.start === "rest" ? [0] : []), ...(run.events ?? []).map(([at]) => at)];
        // the value at a jump may be that before or after it
        const steady = (k: number) => jumps.every((at) => Math.abs(seconds[k]! - at) > 1e-9);
        for (const [unknown, theirs] of Object.entries(run.values)) {
          const swing = Math.max(...theirs) - Math.min(...theirs);
          if (swing < 1e-6) continue;
          const off = theirs.map((volts, k) => (steady(k) ? Math.abs(values[unknown]![k]! - volts) : 0));
          expect(Math.max(...off) / swing, unknown).toBeLessThan(within);
        }
      },
    );
  }
});
