/** Keeps the sheet in the browser while it changes, and finds it again. */
import { effect, signal } from "@preact/signals";
import { circuit } from "../compute/netlist.ts";
import { demoSheet, readSheet } from "../first-sheet.ts";
import type { SheetDocument } from "../state/document.ts";
import { held } from "../state/hand.ts";
import { beginning, type History } from "../state/history.ts";
import { sheet, steps } from "../state/store.ts";
import { digest, ofCircuit, ofFile } from "./origin.ts";
import {
  bringBack,
  discard,
  discarded,
  entryKey,
  type Label,
  type Place,
  putAway,
  shelved,
  takeOut,
  tried,
} from "./shelf.ts";

/** Why the sheet is not kept; empty while it is. */
export const keepProblem = signal("");
/** What lies in the browser. */
export const shelf = signal<readonly Label[]>([]);
/** The title of what was thrown away last and can be brought back. */
export const thrownAway = signal<string | undefined>(undefined);

/** Storage, where the browser lets a page have it. */
function storage(kind: "localStorage" | "sessionStorage"): Place | undefined {
  try {
    return window[kind];
  } catch {
    return undefined;
  }
}

/** Names the sheet that was open in this page last: in this window, else in any. */
let pointer = "";

const lastOpen = (): string | undefined =>
  tried(() => storage("sessionStorage")?.getItem(pointer)) ??
  tried(() => storage("localStorage")?.getItem(pointer)) ??
  undefined;

/** A sheet kept under a name. */
export function keptSheet(origin: string | undefined): History | undefined {
  const place = storage("localStorage");
  return origin === undefined || place === undefined ? undefined : tried(() => takeOut(place, origin));
}

/** What the page opens with, given the text of the sheet in its file: as it was left, else that, else the demonstration. */
export function sheetToBegin(text: string): History {
  pointer = `preprobe/1 open ${text === "" ? "" : digest(text)}`;
  const read = text === "" ? undefined : readSheet(text);
  const own: SheetDocument = read === undefined ? ofCircuit(demoSheet()) : ofFile(read, text);
  return keptSheet(lastOpen()) ?? keptSheet(own.origin) ?? beginning(own);
}

/**
 * So long after the last change it is written down, ms; while changes go on, at least so often; and while a control
 * is held, which wants the time itself.
 */
const [PAUSE, LONGEST, HELD] = [250, 800, 5000];

/** What is written down already. */
let written: SheetDocument | undefined;

function lookAtShelf(): void {
  const place = storage("localStorage");
  shelf.value = (place && tried(() => shelved(place))) ?? [];
  thrownAway.value = place && tried(() => discarded(place));
}

/** Does something to the shelf; false where it cannot be done. */
function onShelf(act: (place: Place) => boolean): boolean {
  const place = storage("localStorage");
  const done = (place && tried(() => act(place))) ?? false;
  lookAtShelf();
  return done;
}

/** Throws a kept sheet away, until another one is. */
export const throwAway = (origin: string): boolean => onShelf((place) => discard(place, origin));
export const takeBackThrown = (): boolean => onShelf(bringBack);

/** Writes the sheet down now, if it has changed. */
export function keepNow(): void {
  const now = steps.peek();
  if (now.present === written) return;
  const place = storage("localStorage");
  const { origin = "" } = now.present;
  keepProblem.value =
    place === undefined
      ? "This browser lets the page keep nothing: save the sheet as a file before you close it."
      : putAway(place, now, circuit.peek()?.title ?? now.present.main);
  if (keepProblem.value !== "") return;
  written = now.present;
  tried(() => storage("localStorage")?.setItem(pointer, origin));
  tried(() => storage("sessionStorage")?.setItem(pointer, origin));
  if (shelf.peek()[0]?.origin !== origin) lookAtShelf();
}

/** Writes what changes soon after it has; in a drag when the hand has let go. */
function keepChanges(): void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let since: number | undefined;
  let wasHeld = false;
  const write = () => {
    since = undefined;
    keepNow();
  };
  effect(() => {
    const isHeld = held.value !== undefined;
    const changed = steps.value.present !== written;
    clearTimeout(timer);
    if (isHeld !== wasHeld || !changed) since = undefined;
    wasHeld = isHeld;
    if (!changed) return;
    since ??= Date.now();
    const [pause, longest] = isHeld ? [HELD, HELD] : [PAUSE, LONGEST];
    timer = setTimeout(write, Math.max(0, Math.min(pause, since + longest - Date.now())));
  });
}

const ELSEWHERE = {
  changed:
    "This sheet is open in another window as well, and was changed there: whichever is changed last is kept.",
  deleted: "This sheet was deleted in another window: what you do here is kept all the same.",
};

/** From here on every change is kept. */
export function startKeeping(): void {
  written = sheet.peek();
  lookAtShelf();
  keepChanges();
  addEventListener("pagehide", keepNow);
  addEventListener("storage", ({ key, newValue }) => {
    if (key !== entryKey(sheet.peek().origin ?? "")) return;
    keepProblem.value = newValue === null ? ELSEWHERE.deleted : ELSEWHERE.changed;
  });
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && keepNow());
}
