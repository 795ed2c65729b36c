/**
 * The page's side of long work: a few workers, a place for each kind of question, and in each place the newest
 * question only.
 */
import type { InputOf, JobName, OutputOf } from "./jobs.ts";
import type { Reply, Request } from "./messages.ts";

/** What is needed of a worker. */
export interface Hand {
  postMessage(request: Request): void;
  terminate(): void;
  onmessage: ((event: MessageEvent<Reply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
}

export interface Listener<Output> {
  readonly progress?: (share: number) => void;
  readonly done: (output: Output) => void;
  readonly failed: (message: string) => void;
}

interface Task {
  readonly place: string;
  readonly request: Request;
  readonly listener: Listener<unknown>;
}

/** Workers at once: the page itself wants a core. */
const MOST_HANDS = 2;

export class BenchHands {
  readonly #hire: () => Hand;
  readonly #most: number;
  readonly #idle: Hand[] = [];
  readonly #busy = new Map<string, { readonly task: Task; readonly hand: Hand }>();
  #waiting: Task[] = [];

  constructor(hire: () => Hand, most = MOST_HANDS) {
    this.#hire = hire;
    this.#most = most;
  }

  /**
   * Asks for a job in a place. Whatever was asked there before and is not done is given up without a word: a
   * running worker is ended and a new one hired.
   */
  ask<Name extends JobName>(
    place: string,
    job: Name,
    input: InputOf<Name>,
    listener: Listener<OutputOf<Name>>,
  ): void {
    this.cancel(place);
    this.#waiting.push({ place, request: { job, input }, listener: listener as Listener<unknown> });
    this.#next();
  }

  /** Gives up what is asked in a place. */
  cancel(place: string): void {
    this.#waiting = this.#waiting.filter((task) => task.place !== place);
    const running = this.#busy.get(place);
    if (running === undefined) return;
    running.hand.terminate();
    this.#busy.delete(place);
    this.#next();
  }

  #next(): void {
    while (this.#busy.size < this.#most && this.#waiting.length > 0) {
      const task = this.#waiting.shift()!;
      this.#start(task);
    }
  }

  #start(task: Task): void {
    let hand: Hand;
    try {
      hand = this.#idle.pop() ?? this.#hire();
    } catch (error) {
      task.listener.failed(`no background work is possible here: ${String(error)}`);
      return;
    }
    this.#busy.set(task.place, { task, hand });
    hand.onmessage = ({ data }) => this.#heard(task, hand, data);
    hand.onerror = ({ message }) => {
      hand.terminate();
      this.#busy.delete(task.place);
      task.listener.failed(message || "the background work broke off");
      this.#next();
    };
    hand.postMessage(task.request);
  }

  #heard(task: Task, hand: Hand, reply: Reply): void {
    if (this.#busy.get(task.place)?.task !== task) return;
    if (reply.kind === "progress") {
      task.listener.progress?.(reply.share);
      return;
    }
    this.#busy.delete(task.place);
    this.#idle.push(hand);
    if (reply.kind === "done") task.listener.done(reply.output);
    else task.listener.failed(reply.message);
    this.#next();
  }
}
