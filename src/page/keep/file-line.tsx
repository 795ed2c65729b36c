/** The line of words for what is opened, saved and given out; and files dropped anywhere on the sheet. */
import { useEffect } from "preact/hooks";
import { DEMOS } from "../demos.ts";
import { dateText } from "../heading.tsx";
import { sheet } from "../state/store.ts";
import { EXPORTS, exportAs } from "./exports.ts";
import { keepProblem, shelf, thrownAway } from "./keeper.ts";
import { bringBackKept, deleteKept, openDemo, openFiles, openKept, openProblem, openWords } from "./open.ts";
import { saveSheet } from "./save.ts";

interface Offered {
  readonly value: string;
  readonly text: string;
}

interface ChoiceProps {
  readonly id: string;
  readonly title: string;
  readonly choices: readonly Offered[];
  /** What else may be done with the same, in a group of its own. */
  readonly more?: { readonly title: string; readonly choices: readonly Offered[] };
  readonly onChoice: (value: string) => void;
}

const optionsOf = (choices: readonly Offered[]) =>
  choices.map(({ value, text }) => (
    <option key={value} value={value}>
      {text}
    </option>
  ));

/** A list of words that stays at its title. */
function Choice({ id, title, choices, more, onChoice }: ChoiceProps) {
  return (
    <select
      id={id}
      aria-label={title}
      value=""
      onChange={({ currentTarget }) => {
        const { value } = currentTarget;
        currentTarget.value = "";
        if (value !== "") onChoice(value);
      }}
    >
      <option value="">{title} …</option>
      {optionsOf(choices)}
      {more === undefined ? null : <optgroup label={more.title}>{optionsOf(more.choices)}</optgroup>}
    </select>
  );
}

const dayOf = (at: number): string => dateText(new Date(at).toISOString().slice(0, 10));

/** Beginnings of the values of the list, of one length. */
const [OPEN, DELETE] = ["o ", "d "] as const;

function Kept() {
  const others = shelf.value.filter(({ origin }) => origin !== sheet.value.origin);
  if (others.length === 0) return null;
  const named = others.map(({ origin, title, at }) => ({ origin, text: `${title}, ${dayOf(at)}` }));
  const choices = named.map(({ origin, text }) => ({ value: OPEN + origin, text }));
  const deleted = named.map(({ origin, text }) => ({ value: DELETE + origin, text: `delete ${text}` }));
  return (
    <Choice
      id="kept"
      title="Kept here"
      choices={choices}
      more={{ title: "Delete", choices: deleted }}
      onChoice={(value) => {
        const origin = value.slice(OPEN.length);
        if (value.startsWith(DELETE)) deleteKept(origin);
        else openKept(origin);
      }}
    />
  );
}

/** What was deleted last stays at hand until another sheet is. */
function ThrownAway() {
  const title = thrownAway.value;
  if (title === undefined) return null;
  return (
    <p class="faint">
      {title} deleted:{" "}
      <button type="button" class="word" onClick={bringBackKept}>
        bring it back
      </button>
    </p>
  );
}

const listOf = (values: readonly string[]) => values.map((value) => ({ value, text: value }));

const ACCEPTED = ".netlist,.net,.txt,.html,.csv,.tsv,.fods,.ods,text/*";

function OpenFile() {
  return (
    <label class="file">
      <span class="word">Open a file</span>
      <input
        id="open-file"
        type="file"
        multiple
        accept={ACCEPTED}
        title="a netlist, a saved sheet, readings (.fods, .ods, .csv) or a measured response (.csv)"
        onChange={({ currentTarget }) => {
          const files = [...(currentTarget.files ?? [])];
          currentTarget.value = "";
          void openFiles(files);
        }}
      />
    </label>
  );
}

const holdsFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes("Files") ?? false;

function onDrag(event: DragEvent): void {
  if (holdsFiles(event)) event.preventDefault();
}

function onDrop(event: DragEvent): void {
  if (!holdsFiles(event)) return;
  event.preventDefault();
  void openFiles([...(event.dataTransfer?.files ?? [])]);
}

/** Files may be dropped anywhere: a browser would leave the page for them. */
function useDrop(): void {
  useEffect(() => {
    addEventListener("dragover", onDrag);
    addEventListener("drop", onDrop);
    return () => {
      removeEventListener("dragover", onDrag);
      removeEventListener("drop", onDrop);
    };
  }, []);
}

export function FileLine() {
  useDrop();
  return (
    <div class="keeping">
      <OpenFile />
      <Choice id="demos" title="Demonstrations" choices={listOf(Object.keys(DEMOS))} onChoice={openDemo} />
      <Kept />
      <button type="button" class="word" onClick={saveSheet}>
        Save sheet
      </button>
      <Choice
        id="export"
        title="Export"
        choices={listOf(EXPORTS.map(({ title }) => title))}
        onChoice={(title) => {
          openProblem.value = exportAs(title);
        }}
      />
      <button type="button" class="word" onClick={() => print()}>
        Print
      </button>
      <p class="faint" role="status">
        {openWords}
      </p>
      <ThrownAway />
      <p class="look kept-problem" role="alert" hidden={openProblem.value === "" && keepProblem.value === ""}>
        {openProblem} {keepProblem}
      </p>
    </div>
  );
}
