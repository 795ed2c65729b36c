/** The sheet that is open: one place that is read, one entrance for changes. */
import { computed, type ReadonlySignal, signal } from "@preact/signals";
import type { Change } from "./change.ts";
import { blankSheet, type Json, type SheetDocument } from "./document.ts";
import { beginning, type History, recorded, redone, strokeEnded, undone } from "./history.ts";

const history = signal<History>(beginning(blankSheet("", {}, "")));

/** The sheet with what can be taken back and done again. */
export const steps: ReadonlySignal<History> = history;
/** The sheet as it is now. */
export const sheet: ReadonlySignal<SheetDocument> = computed(() => history.value.present);
/** Pieces of it, each of which changes only when it does. */
export const files = computed(() => sheet.value.files);
export const settings = computed(() => sheet.value.settings);
export const readings = computed(() => sheet.value.readings);
export const canUndo = computed(() => history.value.past.length > 0);
export const canRedo = computed(() => history.value.future.length > 0);

/** Begins with a sheet, nothing to be undone; or with one as it was left. */
export function startWith(begun: SheetDocument | History): void {
  history.value = "present" in begun ? begun : beginning(begun);
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

const isObject = (value: unknown): value is Readonly<Record<string, Json>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const kindOf = (value: unknown): string =>
  value === null ? "null" : Array.isArray(value) ? "array" : typeof value;

/** What was kept, as far as it has the shape of `initial`: a file from somebody else may hold anything. */
export function shapedAs<Value extends Json>(initial: Value, found: Json | undefined): Value {
  if (kindOf(found) !== kindOf(initial)) return initial;
  if (!isObject(initial) || !isObject(found)) return found as Value;
  const sound = Object.entries(found).filter(
    ([key, value]) =>
      !Object.hasOwn(initial, key) || initial[key] === null || kindOf(value) === kindOf(initial[key]),
  );
  return { ...(initial as object), ...Object.fromEntries(sound) } as Value;
}

/** What a section keeps of its own under its id, or `initial` as long as nothing is kept. */
export function kept<Value extends Json>(id: string, initial: Value): ReadonlySignal<Value> {
  return computed(() => shapedAs(initial, new Map(Object.entries(sheet.value.sections)).get(id)));
}

/** Keeps something of a section's own; undoable. */
export function keep(id: string, value: Json, stroke?: string): void {
  dispatch({ kind: "section", id, value }, stroke);
}
