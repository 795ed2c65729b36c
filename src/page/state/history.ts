/** A sheet with what came before it and what was taken back. One drag, or one field's typing, is one step. */
import { type Change, changed, isUndoable } from "./change.ts";
import type { SheetDocument } from "./document.ts";

export interface History {
  readonly past: readonly SheetDocument[];
  readonly present: SheetDocument;
  readonly future: readonly SheetDocument[];
  /** What the hand is at: further changes of the same stroke are the same step. */
  readonly stroke: string | undefined;
}

/** Steps that can be taken back. */
const LONGEST = 200;

export const beginning = (present: SheetDocument): History => ({
  past: [],
  present,
  future: [],
  stroke: undefined,
});

/** After a change; those of one `stroke` in succession are one step. */
export function recorded(history: History, change: Change, stroke?: string): History {
  const present = changed(history.present, change);
  if (!isUndoable(change)) return { ...history, present };
  if (stroke !== undefined && stroke === history.stroke) return { ...history, present, future: [] };
  return { past: [...history.past.slice(1 - LONGEST), history.present], present, future: [], stroke };
}

/** The hand lets go: what follows is another step. */
export const strokeEnded = (history: History): History =>
  history.stroke === undefined ? history : { ...history, stroke: undefined };

/** What one looks at stays where it is when something is taken back, unless it is another sheet. */
function lookingAt(document: SheetDocument, { folded, settings, origin }: SheetDocument): SheetDocument {
  if (document.origin !== origin) return document;
  return { ...document, folded, settings: { ...document.settings, mode: settings.mode } };
}

export function undone({ past, present, future }: History): History {
  const before = past.at(-1);
  if (before === undefined) return { past, present, future, stroke: undefined };
  return {
    past: past.slice(0, -1),
    present: lookingAt(before, present),
    future: [present, ...future],
    stroke: undefined,
  };
}

export function redone({ past, present, future }: History): History {
  const [next, ...later] = future;
  if (next === undefined) return { past, present, future, stroke: undefined };
  return { past: [...past, present], present: lookingAt(next, present), future: later, stroke: undefined };
}
