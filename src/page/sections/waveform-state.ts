/** What is asked of the circuit in time, the last run, and where the cursor stands in it. */
import { computed, signal } from "@preact/signals";
import type { WaveformConditions } from "../../bench/waveform/conditions.ts";
import type { Waveform } from "../../bench/waveform/results.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { conditions, mode } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { FIELDS, type WaveformFields, waveformQuestion } from "../compute/waveform-question.ts";
import { onDemand } from "../long-work/on-demand.ts";
import type { ModeOutput } from "../long-work/stages.ts";
import { keep, kept } from "../state/store.ts";

export const ID = "waveforms";

export const fields = kept(ID, { ...FIELDS, nets: [...FIELDS.nets] });

export const setFields = (some: Partial<WaveformFields>, stroke?: string): void =>
  keep(ID, { ...fields.value, ...some } as typeof fields.value, stroke);

/** A run that has come to its end, or to where it was broken off. */
export interface Run {
  readonly circuit: Circuit;
  readonly asked: WaveformConditions;
  readonly output: ModeOutput<Waveform>;
}

export const lastRun = signal<Run | undefined>(undefined);
/** Index into the times of the last run. */
export const cursorAt = signal(0);

export const question = computed(() =>
  circuit.value === undefined
    ? undefined
    : waveformQuestion(circuit.value, conditions.value, mode.value, fields.value),
);

/** What is wrong with the fields; undefined where nothing is. */
export const amiss = computed(() =>
  question.value !== undefined && "message" in question.value ? question.value : undefined,
);

export const work = onDemand(ID, "waveform");

export function run(): void {
  const [now, asked] = [circuit.peek(), question.value];
  if (now === undefined || asked === undefined || "message" in asked) return;
  work.run({ circuit: now, conditions: asked }, (output) => {
    cursorAt.value = Math.floor((output.found?.seconds.length ?? 0) / 2);
    lastRun.value = { circuit: now, asked, output };
  });
}

/** The last run is of another circuit, or of another question, than there are now. */
export const outOfDate = computed(
  () =>
    lastRun.value?.circuit !== circuit.value ||
    JSON.stringify(lastRun.value?.asked) !== JSON.stringify(question.value),
);
