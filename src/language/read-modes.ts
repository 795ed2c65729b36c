/** `mode NAME …`: named states of the circuit. */
import type { Mode, PartState } from "../circuit/circuit.ts";
import { Cursor } from "./cursor.ts";
import type { Draft, Pending } from "./draft.ts";
import { meant } from "./nearest.ts";
import type { Word } from "./scan.ts";
import { takeState } from "./states.ts";

/** All modes that the draft names, with their states as far as they can be read. */
export function readModes(draft: Draft): Mode[] {
  return draft.pending
    .filter((pending) => pending.keyword.text === "mode" && isNamed(pending, draft))
    .map((pending) => ({ name: pending.name!.text, states: readStates(pending, draft) }));
}

/** Complains where a part stands in the place of the name. */
function isNamed({ name, words }: Pending, draft: Draft): boolean {
  if (!draft.parts.has(name!.text) || words.length % 2 === 0) return true;
  draft.complaints.error(
    name!,
    `A name for the mode is expected here; "${name!.text}" is a part`,
    `write it as mode NAME ${name!.text} ${words[0]?.text ?? "…"}`,
  );
  return false;
}

function readStates({ name, words }: Pending, draft: Draft): PartState[] {
  const cursor = new Cursor(words, name!);
  const states: PartState[] = [];
  while (!cursor.done) readState(cursor, draft, states);
  return states;
}

function readState(cursor: Cursor, draft: Draft, states: PartState[]): void {
  const { parts, complaints, lost, incomplete } = draft;
  const word = cursor.take()!;
  const part = parts.get(word.text);
  if (part === undefined) {
    if (!lost.has(word.text) && !incomplete) {
      const [name = "", ...value] = word.text.split("=");
      const hint = parts.has(name) ? `write it without "=": ${name} ${value.join("=")}` : undefined;
      complaints.error(
        word,
        `There is no part ${word.text} to be set`,
        hint ?? meant(word.text, parts.keys()),
      );
    }
    skip(cursor, draft, "a value may stand next");
    return;
  }
  if (part.failed) {
    skip(cursor, draft, "a value may stand next");
    return;
  }
  const { name, kind, positions, values } = part;
  const settable = { name: name.text, kind, values, ...(positions && { positions }) };
  const before = complaints.errors;
  const state = takeState(cursor, settable, complaints);
  if (complaints.errors > before) skip(cursor, draft, "the value is behind");
  if (state === undefined) return;
  if (states.some((other) => other.part === state.part && other.key === state.key)) {
    complaints.error(word, `${state.part} is set twice in this mode`, "keep one of the two");
  }
  states.push(state);
}

const DESIGNATOR = /^[A-Z]{1,3}\d+[a-z]?$/;

/** On to the next word that names a part, or that has the form of a name and cannot be a value, as R47 can. */
function skip(cursor: Cursor, draft: Draft, where: "a value may stand next" | "the value is behind"): void {
  let valueIsBehind = where === "the value is behind";
  const names = ({ text }: Word) => draft.parts.has(text) || (valueIsBehind && DESIGNATOR.test(text));
  for (let word = cursor.peek(); word !== undefined && !names(word); word = cursor.peek()) {
    valueIsBehind = true;
    cursor.take();
  }
}
