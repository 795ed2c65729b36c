import type { Circuit } from "../circuit/circuit.ts";
import type { Failure } from "./results.ts";
import { type Answer, chosenModes } from "./run.ts";
import type { WaveformConditions } from "./waveform/conditions.ts";
import { follow, type Progress } from "./waveform/follow.ts";
import type { Waveform } from "./waveform/results.ts";

/**
 * Voltages against time of every mode asked for: the full nonlinear circuit, junction temperatures held.
 * Yields after every step; whoever answers true ends the run and gets what has been computed.
 */
export function* waveforms(
  circuit: Circuit,
  conditions: WaveformConditions,
): Generator<Progress, Answer<Waveform>, boolean | undefined> {
  const results: Waveform[] = [];
  const failures: Failure[] = [];
  for (const mode of chosenModes(circuit, conditions)) {
    const found = yield* follow(circuit, mode, conditions);
    if ("kind" in found) failures.push(found);
    else results.push(found);
    if ("interrupted_seconds" in found) break;
  }
  return { results, failures };
}

/** The same in one go. */
export function waveform(circuit: Circuit, conditions: WaveformConditions): Answer<Waveform> {
  const steps = waveforms(circuit, conditions);
  for (;;) {
    const next = steps.next();
    if (next.done === true) return next.value;
  }
}
