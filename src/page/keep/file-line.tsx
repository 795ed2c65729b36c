/** The line of words for what is opened, saved and given out; and files dropped anywhere on the sheet. */
import { useEffect } from "preact/hooks";
import { DEMOS } from "../demos.ts";
import { dateText } from "../heading.tsx";
import { sheet } from "../state/store.ts";
import { EXPORTS, exportAs } from "./exports.ts";
import { keepProblem, shelf } from "./keeper.ts";
import { openDemo, openFiles, openKept, openProblem, openWords } from "./open.ts";
import { saveSheet } from "./save.ts";

interface ChoiceProps {
  readonly id: string;
  readonly title: string;
  readonly choices: readonly { readonly value: string; readonly text: string }[];
  readonly onChoice: (value: string) => void;
}

/** A list of words that stays at its title. */
function Choice({ id, title, choices, onChoice }: ChoiceProps) {
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
      {choices.map(({ value, text }) => (
        <option key={value} value={value}>
          {text}
        </option>
      ))}
    </select>
  );
}

const dayOf = (at: number): string => dateText(new Date(at).toISOString().slice(0, 10));

function Kept() {
  const others = shelf.value.filter(({ origin }) => origin !== sheet.value.origin);
  if (others.length === 0) return null;
  const choices = others.map(({ origin, title, at }) => ({ value: origin, text: `${title}, ${dayOf(at)}` }));
  return <Choice id="kept" title="Kept here" choices={choices} onChoice={openKept} />;
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
      <p class="look kept-problem" role="alert" hidden={openProblem.value === "" && keepProblem.value === ""}>
        {openProblem} {keepProblem}
      </p>
    </div>
  );
}
