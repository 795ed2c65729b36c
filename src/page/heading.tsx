/** Title, date, what is wrong if anything is, and the contents line. */
import { useComputed, useSignalEffect } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { failures, solution, stale } from "./compute/live.ts";
import { circuit, errors } from "./compute/netlist.ts";
import { DEMOS, FIRST_DEMO } from "./demos.ts";
import { SECTIONS } from "./sections/index.ts";
import { canRedo, canUndo, dispatch, files, readings, sheet } from "./state/store.ts";
import { doAgain, takeBack } from "./undo-keys.tsx";
import { withHint } from "./words.ts";

const MONTHS = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");

/** `2026-11-25` as `25 Nov 2026`; as it stands if it is no date. */
export function dateText(iso: string): string {
  const [, year, month, day] = /^(\d{4})-(\d\d)-(\d\d)$/.exec(iso) ?? [];
  const name = MONTHS[Number(month) - 1];
  return name === undefined ? iso : `${Number(day)} ${name} ${year}`;
}

/** A folded section opens when one jumps to it. */
const unfold = (id: string) => () => dispatch({ kind: "fold", id, folded: false });

function Contents() {
  return (
    <nav aria-label="Contents">
      <ol class="contents">
        {SECTIONS.map(({ id, title }, i) => (
          <li key={id}>
            <a href={`#${id}`} onClick={unfold(id)}>
              <b>{i + 1}</b>
              {title.toLowerCase()}
            </a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

function BackAndForth() {
  return (
    <p class="back-and-forth">
      <button type="button" class="word" disabled={!canUndo.value} onClick={takeBack}>
        undo
      </button>{" "}
      <button type="button" class="word" disabled={!canRedo.value} onClick={doAgain}>
        redo
      </button>
    </p>
  );
}

function problemText(): string {
  const [first, ...more] = errors.value;
  if (first !== undefined) {
    const others = more.length === 0 ? "" : ` And ${more.length} more.`;
    const state = circuit.value === undefined ? "" : " What stands below is the last good state.";
    return `${first.file}, line ${first.line}: ${first.message}.${others}${state}`;
  }
  const said = failures.value.map(withHint);
  if (said.length === 0) return "";
  const old = solution.value?.modes.some(({ failure }) => failure !== undefined) ?? false;
  return `No solution: ${said.join(". ")}.${old ? " What stands below is the last good state." : ""}`;
}

/** To the chooser of files, which stands in the line of what can be opened. */
const chooseFile = () => document.getElementById("open-file")?.click();

/** What to do with a sheet on which nothing has been done yet. */
function Hint() {
  // asked once: a line that went away would move the page under the hand
  const [untouched] = useState(() => Object.keys(readings.peek()).length === 0);
  const { main } = sheet.value;
  if (!untouched || circuit.value === undefined) return null;
  const isDemo = main === FIRST_DEMO && files.value[main] === DEMOS[main];
  return (
    <p class="hint">
      {isDemo ? "A demonstration recorder: type" : "Type"} what your meter shows, or{" "}
      <button type="button" class="word" onClick={chooseFile}>
        open your own netlist
      </button>
      .
    </p>
  );
}

/** Its children are the line of what can be opened and saved. */
export function Heading({ children }: { readonly children: ComponentChildren }) {
  const problem = useComputed(problemText);
  const title = circuit.value?.title ?? "no circuit yet";
  useSignalEffect(() => {
    document.title = `${circuit.value?.title ?? "preprobe"}, service sheet`;
  });
  return (
    <header>
      <div class="title">
        <h1>{title}</h1>
        <p class="date">sheet of {dateText(sheet.value.date)}</p>
      </div>
      <div class="beginning">
        <div class="said">
          <p class="problem look" role="alert" hidden={!stale.value}>
            {problem}
          </p>
          {stale.value ? null : <Hint />}
        </div>
        {children}
        <BackAndForth />
      </div>
      <Contents />
    </header>
  );
}
