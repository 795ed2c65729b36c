/** Keeps the sheet in the browser while it changes, and finds it again. */
import { effect, signal } from "@preact/signals";
import { circuit } from "../compute/netlist.ts";
import { demoSheet, readSheet } from "../first-sheet.ts";
import type { SheetDocument } from "../state/document.ts";
import { beginning, type History } from "../state/history.ts";
import { sheet, steps } from "../state/store.ts";
import { digest, ofCircuit, ofFile } from "./origin.ts";
import { entryKey, type Label, type Place, putAway, shelved, takeOut } from "./shelf.ts";

/** Why the sheet is not kept; empty while it is. */
export const keepProblem = signal("");
/** What lies in the browser. */
export const shelf = signal<readonly Label[]>([]);

/** Storage, where the browser lets a page have it. */
function storage(kind: "localStorage" | "sessionStorage"): Place | undefined {
  try {
    return window[kind];
  } catch {
    return undefined;
  }
}

function tried<Value>(act: () => Value): Value | undefined {
  try {
    return act();
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

/** So long after the last change it is written down, ms; while changes go on, at least so often. */
const [PAUSE, LONGEST] = [300, 2000];

/** What is written down already. */
let written: SheetDocument | undefined;

function lookAtShelf(): void {
  const place = storage("localStorage");
  shelf.value = (place && tried(() => shelved(place))) ?? [];
}

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

/** From here on every change is kept. */
export function startKeeping(): void {
  written = sheet.peek();
  lookAtShelf();
  let timer: ReturnType<typeof setTimeout> | undefined;
  let since: number | undefined;
  effect(() => {
    if (steps.value.present === written) return;
    since ??= Date.now();
    clearTimeout(timer);
    timer = setTimeout(
      () => {
        since = undefined;
        keepNow();
      },
      Math.max(0, Math.min(PAUSE, since + LONGEST - Date.now())),
    );
  });
  addEventListener("pagehide", keepNow);
  addEventListener("storage", ({ key }) => {
    if (key !== entryKey(sheet.peek().origin ?? "")) return;
    keepProblem.value =
      "This sheet is open in another window as well, and was changed there: whichever is changed last is kept.";
  });
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && keepNow());
}
