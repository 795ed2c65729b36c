/** Voltages against time. */
import type { WaveformConditions } from "../../bench/waveform/conditions.ts";
import type { Waveform } from "../../bench/waveform/results.ts";
import { waveforms } from "../../bench/waveform.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import type { Steps } from "./jobs.ts";
import type { ModeOutput } from "./stages.ts";

export interface WaveformInput {
  readonly circuit: Circuit;
  /** Of one mode. */
  readonly conditions: WaveformConditions;
}

export function* waveformJob({ circuit, conditions }: WaveformInput): Steps<ModeOutput<Waveform>> {
  const run = waveforms(circuit, conditions);
  let next = run.next();
  while (next.done !== true) next = run.next(yield next.value.seconds / next.value.of);
  const { results, failures } = next.value;
  return { ...(results[0] !== undefined && { found: results[0] }), failures };
}
