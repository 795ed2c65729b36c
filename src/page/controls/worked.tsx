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

export function Worked<Output>({ state, doing, children }: WorkedProps<Output>) {
  const { value, stale, progress, failure } = state;
  return (
    <>
      <p class="faint progress worked">{progressText(doing, progress)}</p>
      {failure === undefined ? null : <p class="look">{failure}</p>}
      {value === undefined ? null : (
        <div class={stale || notSolved.value ? "stale" : ""}>{children(value)}</div>
      )}
    </>
  );
}
