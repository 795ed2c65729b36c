/** Long work that is done when it is asked for, and can be broken off with what there is by then. */
import { type ReadonlySignal, signal } from "@preact/signals";
import { hands } from "./follow.ts";
import type { InputOf, JobName, OutputOf } from "./jobs.ts";

export interface Demanded {
  /** How far the work has come, 0 … 1; undefined while nothing is done. */
  readonly progress: number | undefined;
  /** It was told to stop, and gathers what it has. */
  readonly stopping: boolean;
  readonly failure: string;
}

export interface OnDemand<Name extends JobName> {
  readonly state: ReadonlySignal<Demanded>;
  readonly run: (input: InputOf<Name>, done: (output: OutputOf<Name>) => void) => void;
  /** The first time the work ends with what it has; the second time with nothing. */
  readonly cancel: () => void;
}

const REST: Demanded = { progress: undefined, stopping: false, failure: "" };

export function onDemand<Name extends JobName>(place: string, job: Name): OnDemand<Name> {
  const state = signal(REST);
  return {
    state,
    run: (input, done) => {
      state.value = { ...REST, progress: 0 };
      hands.ask(place, job, input, {
        progress: (progress) => {
          state.value = { ...state.peek(), progress };
        },
        done: (output) => {
          state.value = REST;
          done(output);
        },
        failed: (failure) => {
          state.value = { ...REST, failure };
        },
      });
    },
    cancel: () => {
      if (!state.peek().stopping && hands.stop(place)) {
        state.value = { ...state.peek(), stopping: true };
        return;
      }
      hands.cancel(place);
      state.value = REST;
    },
  };
}
