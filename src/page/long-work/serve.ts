/** The worker's side: does what it is asked, one job after the other. */
import { JOBS, type Job, type Steps } from "./jobs.ts";
import type { Reply, Request, Stop } from "./messages.ts";

/** What is needed of a worker's global scope. */
interface Scope {
  postMessage(reply: Reply): void;
  addEventListener(kind: "message", listener: (event: MessageEvent<Request | Stop>) => void): void;
}

/** Between two words of progress, ms: more are not seen. */
const PAUSE = 80;

const messageOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

const isSteps = (answer: unknown): answer is Steps<unknown> =>
  typeof answer === "object" && answer !== null && Symbol.iterator in answer && "next" in answer;

/** Long enough for a word from the page to come in. */
const breath = () => new Promise<void>((resolve) => setTimeout(resolve));

/** Goes on step by step, and looks up now and then whether it may stop. */
async function inSteps(
  steps: Steps<unknown>,
  progress: (share: number) => boolean,
  stopped: () => boolean,
): Promise<unknown> {
  let next = steps.next();
  while (next.done !== true) {
    if (progress(next.value)) await breath();
    next = steps.next(stopped());
  }
  return next.value;
}

/**
 * Answers one request: progress, then what is done. A job in steps is answered later, with what it has as soon as
 * `stopped` says so.
 */
export function answer(
  { job, input }: Request,
  reply: (message: Reply) => void,
  now = () => performance.now(),
  stopped = () => false,
): Promise<void> | undefined {
  const work = (JOBS as Readonly<Record<string, Job<never, unknown>>>)[job];
  const failed = (message: string): undefined => {
    reply({ kind: "failed", message });
  };
  if (work === undefined) return failed(`there is no job "${job}"`);
  let last = now();
  const progress = (share: number): boolean => {
    if (now() - last < PAUSE) return false;
    last = now();
    reply({ kind: "progress", share });
    return true;
  };
  const done = (output: unknown): undefined => {
    reply({ kind: "done", output });
  };
  try {
    const output = work(input as never, progress);
    if (!isSteps(output)) return done(output);
    return inSteps(output, progress, stopped).then(done, (error) => failed(messageOf(error)));
  } catch (error) {
    return failed(messageOf(error));
  }
}

/** Takes jobs from the page that started this worker. */
export function serveJobs(scope: Scope): void {
  let stopped = false;
  scope.addEventListener("message", ({ data }) => {
    stopped = "stop" in data;
    if ("stop" in data) return;
    void answer(
      data,
      (message) => scope.postMessage(message),
      undefined,
      () => stopped,
    );
  });
}
