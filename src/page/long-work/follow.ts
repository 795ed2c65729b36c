/** Long work that follows the sheet: a signal whose value comes later, and is stale until it does. */
import { effect, type ReadonlySignal, signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { held } from "../state/hand.ts";
import { BenchHands } from "./bench-hands.ts";
import type { InputOf, JobName, OutputOf } from "./jobs.ts";

export interface Followed<Output> {
  /** The newest answer there is, if any. */
  readonly value: Output | undefined;
  /** It belongs to an earlier question. */
  readonly stale: boolean;
  /** How far the work has come, 0 … 1; undefined while nothing is done. */
  readonly progress: number | undefined;
  readonly failure: string | undefined;
  /** Gives the work up; there once it takes its time. */
  readonly halt?: (() => void) | undefined;
  /** Takes it up again; there when it was given up. */
  readonly resume?: (() => void) | undefined;
}

let script = "";
let address: string | undefined;

/** The text of the page's own script, which is the worker's as well. */
export function useScript(text: string): void {
  script = text;
}

function hire(): Worker {
  address ??= URL.createObjectURL(new Blob([script], { type: "text/javascript" }));
  return new Worker(address);
}

/** Everyone's workers. */
export const hands = new BenchHands(hire);

/** So long after the last change the work begins, ms: a drag asks once, at its end. */
const PATIENCE = 120;

/** Work that is done sooner than this is not worth a word on how to end it, ms. */
const SOON = 1500;

const NOTHING = { value: undefined, stale: false, progress: undefined, failure: undefined };

/** Whether two questions are the same, piece by piece. */
function alike(a: object | undefined, b: object | undefined): boolean {
  if (a === undefined || b === undefined) return false;
  const [left, right] = [Object.entries(a), new Map(Object.entries(b))];
  return left.length === right.size && left.every(([key, value]) => right.get(key) === value);
}

/**
 * Does `job` whenever what `input` reads changes, in the background, newest question first; nothing while `input`
 * gives undefined or a control is held. `place` names the question: one at a time in each. Call it once, at the
 * top of a module or in `useFollowed`.
 */
export function follow<Name extends JobName>(
  place: string,
  job: Name,
  input: () => InputOf<Name> | undefined,
): { readonly state: ReadonlySignal<Followed<OutputOf<Name>>>; readonly stop: () => void } {
  type State = Followed<OutputOf<Name>>;
  const state = signal<State>(NOTHING);
  const set = (some: Partial<State>) => {
    state.value = { ...state.peek(), ...some };
  };
  let timer: ReturnType<typeof setTimeout> | undefined;
  let answered: InputOf<Name> | undefined;
  const ended = (some: Partial<State>) => {
    clearTimeout(timer);
    set({ progress: undefined, halt: undefined, resume: undefined, ...some });
  };
  const ask = (asked: InputOf<Name>) => {
    ended({ progress: 0 });
    const halt = () => {
      hands.cancel(place);
      ended({ resume: () => ask(asked) });
    };
    timer = setTimeout(() => set({ halt }), SOON);
    hands.ask(place, job, asked, {
      progress: (progress) => set({ progress }),
      done: (value) => {
        answered = asked;
        ended({ value, stale: false, failure: undefined });
      },
      failed: (failure) => ended({ failure }),
    });
  };
  const end = effect(() => {
    const asked = input();
    const inMotion = held.value !== undefined;
    hands.cancel(place);
    const known = alike(asked, answered);
    ended({ stale: !known && state.peek().value !== undefined });
    if (asked === undefined || inMotion || known) return;
    timer = setTimeout(() => ask(asked), PATIENCE);
  });
  const stop = () => {
    end();
    clearTimeout(timer);
    hands.cancel(place);
  };
  return { state, stop };
}

/** `follow` for as long as a component is on the sheet. */
export function useFollowed<Name extends JobName>(
  place: string,
  job: Name,
  input: () => InputOf<Name> | undefined,
): ReadonlySignal<Followed<OutputOf<Name>>> {
  const following = useRef<ReturnType<typeof follow<Name>> | undefined>(undefined);
  following.current ??= follow(place, job, input);
  useEffect(() => () => following.current?.stop(), []);
  return following.current.state;
}
