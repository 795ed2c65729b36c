/** What long work has found: grey while it is of an earlier state, with a word on how far the work is. */
import type { ComponentChildren } from "preact";
import type { Failure } from "../../bench/results.ts";
import { stale as notSolved } from "../compute/live.ts";
import type { Followed } from "../long-work/follow.ts";

interface WorkedProps<Output> {
  readonly state: Followed<Output>;
  /** What is being done, `looking at every stage`. */
  readonly doing: string;
  readonly children: (value: Output) => ComponentChildren;
}

export function progressText(doing: string, progress: number | undefined): string {
  if (progress === undefined) return "";
  const share = Math.round(100 * progress);
  return `${doing} … ${share > 0 ? `${share} %` : ""}`.trimEnd();
}

/** Reasons why there is nothing, a sentence each. */
export function Failures({ failures }: { readonly failures: readonly Failure[] }) {
  return (
    <>
      {failures.map(({ message, hint }) => (
        <p key={message} class="look">
          No result: {message}
          {hint === undefined ? "" : `; ${hint}`}.
        </p>
      ))}
    </>
  );
}

interface ProgressProps {
  readonly state: Followed<unknown>;
  readonly doing: string;
  readonly class?: string;
}

/** How work is given up and taken up again. */
export function Halting({ state: { halt, resume }, doing }: Omit<ProgressProps, "class">) {
  return (
    <>
      {halt === undefined ? null : (
        <>
          {" "}
          <button type="button" class="word" aria-label={`cancel ${doing}`} onClick={halt}>
            cancel
          </button>
        </>
      )}
      {resume === undefined ? null : (
        <>
          cancelled{" "}
          <button type="button" class="word" aria-label={`go on ${doing}`} onClick={resume}>
            go on
          </button>
        </>
      )}
    </>
  );
}

/** How far the work is, and how it is given up and taken up again. */
export function Progress({ state, doing, class: more = "" }: ProgressProps) {
  return (
    <p class={`faint progress ${more}`}>
      {progressText(doing, state.progress)}
      <Halting state={state} doing={doing} />
    </p>
  );
}

export function Worked<Output>({ state, doing, children }: WorkedProps<Output>) {
  const { value, stale, failure } = state;
  return (
    <>
      <Progress state={state} doing={doing} class="worked" />
      {failure === undefined ? null : <p class="look">{failure}</p>}
      {value === undefined ? null : (
        <div class={stale || notSolved.value ? "stale" : ""}>{children(value)}</div>
      )}
    </>
  );
}
