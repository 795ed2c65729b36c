import { expect } from "vitest";
import type { WaveformConditions } from "../../../src/bench/waveform/conditions.ts";
import type { Waveform } from "../../../src/bench/waveform/results.ts";
import { waveform } from "../../../src/bench/waveform.ts";
import { readNetlist } from "../../../src/index.ts";

/** The waveforms of the only mode (or the first) of a netlist. */
export function waveformOf(
  text: string,
  conditions: Partial<WaveformConditions> & { seconds: number },
): Waveform {
  const { circuit, diagnostics } = readNetlist(text);
  if (circuit === undefined) throw new Error(diagnostics[0]?.message);
  const { results, failures } = waveform(circuit, {
    every: conditions.seconds / 100,
    start: { from: "rest", displaced: [] },
    tones: [],
    events: [],
    shown: [],
    ...conditions,
  });
  expect(failures).toEqual([]);
  return results[0]!;
}

/** Largest difference between a trace and a closed form of time. */
export function worst(
  seconds: readonly number[],
  values: readonly number[],
  form: (t: number) => number,
): number {
  return Math.max(...seconds.map((t, k) => Math.abs(values[k]! - form(t))));
}
