/**
 * The page's side of long work: a few workers, a place for each kind of question, and in each place the newest
 * question only.
 */
import type { InputOf, JobName, OutputOf } from "./jobs.ts";
import type { Reply, Request, Stop } from "./messages.ts";

/** What is needed of a worker. */
export interface Hand {
  postMessage(request: Request | Stop): void;
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

/**
 * Jobs whose worker knows more after each question, and is quick then: it has a place of its own and is let finish,
 * whatever is asked meanwhile.
 */
const PATIENT: readonly JobName[] = ["suspects"];

const isPatient = ({ request }: Task): boolean => (PATIENT as readonly string[]).includes(request.job);

interface Running {
  readonly task: Task;
  readonly hand: Hand;
  /** Nobody waits for the answer any more. */
  givenUp: boolean;
}

export class BenchHands {
  readonly #hire: () => Hand;
  readonly #most: number;
  readonly #idle: Hand[] = [];
  /** Of patient jobs, by place. */
  readonly #own = new Map<string, Hand>();
  readonly #busy = new Map<string, Running>();
  #waiting: Task[] = [];

  constructor(hire: () => Hand, most = MOST_HANDS) {
    this.#hire = hire;
    this.#most = most;
  }

  /**
   * Asks for a job in a place. Whatever was asked there before and is not done is given up without a word: a
   * running worker is ended and a new one hired, unless its job is a patient one.
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
    if (isPatient(running.task)) {
      running.givenUp = true;
      return;
    }
    running.hand.terminate();
    this.#busy.delete(place);
    this.#next();
  }

  /** Lets what runs in a place answer with what it has; false if nothing runs there, and what waits is given up. */
  stop(place: string): boolean {
    const running = this.#busy.get(place);
    if (running === undefined || running.givenUp) {
      this.cancel(place);
      return false;
    }
    running.hand.postMessage({ stop: true });
    return true;
  }

  #next(): void {
    while (this.#busy.size < this.#most) {
      const task = this.#waiting.find(({ place }) => !this.#busy.has(place));
      if (task === undefined) return;
      this.#waiting = this.#waiting.filter((each) => each !== task);
      this.#start(task);
    }
  }

  #start(task: Task): void {
    let hand: Hand;
    try {
      hand = (isPatient(task) ? this.#own.get(task.place) : this.#idle.pop()) ?? this.#hire();
    } catch (error) {
      task.listener.failed(`no background work is possible here: ${String(error)}`);
      return;
    }
    const running: Running = { task, hand, givenUp: false };
    this.#busy.set(task.place, running);
    hand.onmessage = ({ data }) => this.#heard(running, data);
    hand.onerror = ({ message }) => {
      hand.terminate();
      this.#busy.delete(task.place);
      this.#own.delete(task.place);
      if (!running.givenUp) task.listener.failed(message || "the background work broke off");
      this.#next();
    };
    hand.postMessage(task.request);
  }

  #heard(running: Running, reply: Reply): void {
    const { task, hand } = running;
    const { place, listener } = task;
    if (this.#busy.get(place) !== running) return;
    if (reply.kind === "progress") {
      if (!running.givenUp) listener.progress?.(reply.share);
      return;
    }
    this.#busy.delete(place);
    if (isPatient(task)) this.#own.set(place, hand);
    else this.#idle.push(hand);
    if (!running.givenUp && reply.kind === "done") listener.done(reply.output);
    if (!running.givenUp && reply.kind === "failed") listener.failed(reply.message);
    this.#next();
  }
}
