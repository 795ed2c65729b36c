/**
 * Our runs in time against those of an independent implementation: docs/models.md written down in another language,
 * integrated by Radau IIA of scipy with a tolerance of 1e-8 (scripts/reference/transients.py).
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
  /** Direct EMF of a source from a time on, V. */
  readonly steps?: readonly (readonly [number, string, number])[];
  /** Switches turned. */
  readonly events?: readonly (readonly [number, Readonly<Record<string, string>>])[];
  readonly nets: Readonly<Record<string, readonly number[]>>;
}

const { results } = JSON.parse(readFileSync(new URL("transients.json", import.meta.url), "utf8")) as {
  results: readonly Run[];
};

/** Allowed difference and tolerance asked for, both as shares of a net's swing. */
const CASES = [
  { within: 1e-4, tolerance: 1e-5 },
  { within: 1e-3, tolerance: 1e-4 },
];

/** What is allowed at the least: the rail of two-tones moves by little, and its share of that comes out larger. */
const HARDER: Readonly<Record<string, number>> = { "two-tones": 3e-4 };

function events({ steps = [], events: turned = [] }: Run): PlannedEvent[] {
  return [
    ...steps.map(([seconds, part, value]) => ({
      seconds,
      what: `${part}.emf=${value}V`,
      states: [{ part, key: "emf", value }],
    })),
    ...turned.map(([seconds, positions]) => ({
      seconds,
      what: JSON.stringify(positions),
      states: Object.entries(positions).flatMap(([part, value]) => turn(part, value)),
    })),
  ];
}

const turn = (part: string, value: string) => [{ part, key: "position", value }];

function ours(run: Run, tolerance: number) {
  const { circuit, diagnostics } = readNetlist(run.netlist);
  if (circuit === undefined) throw new Error(diagnostics[0]?.message);
  const { results: found, failures } = waveform(circuit, {
    seconds: run.seconds,
    every: run.seconds / run.samples,
    start: { from: run.start, displaced: [] },
    tones: (run.tones ?? []).map(([part, hertz, volts]) => ({ part, hertz, volts })),
    events: events(run),
    shown: [],
    tolerance,
    isothermal: true,
  });
  expect(failures).toEqual([]);
  return found[0]!;
}

describe("runs in time", () => {
  it("of at least five circuits are there to compare with", () => {
    expect(results.length).toBeGreaterThanOrEqual(5);
  });

  for (const { within, tolerance } of CASES) {
    it.each(results.map(({ name }) => name))(
      `of %s agree to about ${within} of each net's swing with a tolerance of ${tolerance}`,
      (name) => {
        const run = results.find((each) => each.name === name)!;
        const { nets, seconds } = ours(run, tolerance);
        const jumps = [...(run.steps ?? []), ...(run.events ?? [])].map(([at]) => at);
        // the value at a jump may be that before or after it
        const steady = (k: number) => jumps.every((at) => Math.abs(seconds[k]! - at) > 1e-9);
        for (const [net, theirs] of Object.entries(run.nets)) {
          const swing = Math.max(...theirs) - Math.min(...theirs);
          if (swing < 1e-6) continue;
          const off = theirs.map((volts, k) => (steady(k) ? Math.abs(nets[net]![k]! - volts) : 0));
          expect(Math.max(...off) / swing, net).toBeLessThan(Math.max(within, HARDER[name] ?? 0));
        }
      },
    );
  }
});
