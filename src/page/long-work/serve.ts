/** The worker's side: does what it is asked, one job after the other. */
import { JOBS, type Job } from "./jobs.ts";
import type { Reply, Request } from "./messages.ts";

/** What is needed of a worker's global scope. */
interface Scope {
  postMessage(reply: Reply): void;
  addEventListener(kind: "message", listener: (event: MessageEvent<Request>) => void): void;
}

/** Between two words of progress, ms: more are not seen. */
const PAUSE = 80;

/** Answers one request: progress, then what is done. */
export function answer(
  { job, input }: Request,
  reply: (message: Reply) => void,
  now = () => performance.now(),
) {
  const work = (JOBS as Readonly<Record<string, Job<never, unknown>>>)[job];
  if (work === undefined) return reply({ kind: "failed", message: `there is no job "${job}"` });
  let last = now();
  const progress = (share: number) => {
    if (now() - last < PAUSE) return;
    last = now();
    reply({ kind: "progress", share });
  };
  try {
    reply({ kind: "done", output: work(input as never, progress) });
  } catch (error) {
    reply({ kind: "failed", message: error instanceof Error ? error.message : String(error) });
  }
}

/** Takes jobs from the page that started this worker. */
export function serveJobs(scope: Scope): void {
  scope.addEventListener("message", ({ data }) => answer(data, (message) => scope.postMessage(message)));
}
