/** The sheet that is open: one place that is read, one entrance for changes. */
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import type { Change } from "./change.ts";
import { blankSheet, type Json, type SheetDocument } from "./document.ts";
import { beginning, type History, recorded, redone, strokeEnded, undone } from "./history.ts";

const history = signal<History>(beginning(blankSheet("", {}, "")));

/** The sheet as it is now. */
export const sheet: ReadonlySignal<SheetDocument> = computed(() => history.value.present);
/** Pieces of it, each of which changes only when it does. */
export const files = computed(() => sheet.value.files);
export const settings = computed(() => sheet.value.settings);
export const readings = computed(() => sheet.value.readings);
export const canUndo = computed(() => history.value.past.length > 0);
export const canRedo = computed(() => history.value.future.length > 0);

/** Begins with a sheet, nothing to be undone. */
export function startWith(document: SheetDocument): void {
  history.value = beginning(document);
}

/**
 * The one entrance for changes. Changes of one `stroke` (a drag, the typing in one field) are one step to be
 * undone, until `endStroke`.
 */
export function dispatch(change: Change, stroke?: string): void {
  history.value = recorded(history.value, change, stroke);
}

export function endStroke(): void {
  history.value = strokeEnded(history.value);
}

export function undo(): void {
  history.value = undone(history.value);
}

export function redo(): void {
  history.value = redone(history.value);
}

/** What a section keeps of its own under its id, or `initial` as long as nothing is kept. */
export function kept<Value extends Json>(id: string, initial: Value): ReadonlySignal<Value> {
  return computed(() => (sheet.value.sections[id] as Value | undefined) ?? initial);
}

/** Keeps something of a section's own; undoable. */
export function keep(id: string, value: Json, stroke?: string): void {
  dispatch({ kind: "section", id, value }, stroke);
}
