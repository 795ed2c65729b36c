/** Sheets as they lie in the browser's storage: one entry a circuit, versioned; damage makes an entry vanish, no more. */
import { sheetFrom } from "../first-sheet.ts";
import type { History } from "../state/history.ts";
import { packed, unpacked } from "./packed.ts";

/** As much of the browser's `Storage` as is needed. */
export interface Place {
  readonly length: number;
  key(index: number): string | null;
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

const PREFIX = "preprobe/1 sheet ";
/** Where the sheet lies that was thrown away last. */
const DISCARDED = "preprobe/1 discarded";
const VERSION = 1;

/** Under which key of the storage a sheet lies. */
export const entryKey = (origin: string): string => PREFIX + origin;
/** Steps back that are kept, and with less room. */
const STEPS = [60, 12, 0];
/** Browsers give some five million characters to all pages together; one sheet takes no more than this. */
const LARGEST = 1.5e6;

export interface Label {
  readonly origin: string;
  readonly title: string;
  /** When it was kept last, ms since 1970. */
  readonly at: number;
}

/** What storage gives; undefined where a browser forbids it or has no room. */
export function tried<Value>(act: () => Value): Value | undefined {
  try {
    return act();
  } catch {
    return undefined;
  }
}

const entryOf = ({ past, present, future }: History, title: string, most: number, at: number): string =>
  packed({
    version: VERSION,
    title,
    at,
    present,
    past: most === 0 ? [] : past.slice(-most),
    future: future.slice(0, most),
  });

/** Keeps a sheet, with fewer steps back where room is short. A sentence if it cannot be kept. */
export function putAway(place: Place, history: History, title: string, at = Date.now()): string {
  const { origin = "" } = history.present;
  for (const most of STEPS) {
    const entry = entryOf(history, title, most, at);
    if (entry.length > LARGEST && most > 0) continue;
    try {
      place.setItem(entryKey(origin), entry);
      return "";
    } catch {
      // no room, or storage is forbidden: the next try is smaller, and what was thrown away makes room
      tried(() => place.removeItem(DISCARDED));
    }
  }
  return "This browser keeps nothing more: what you do now is lost with the page. Save the sheet as a file.";
}

function entryAt(place: Place, key: string): Readonly<Record<string, unknown>> | undefined {
  const value = tried(() => unpacked(place.getItem(key) ?? "") as Record<string, unknown> | null);
  return value?.version === VERSION ? value : undefined;
}

const sheetsIn = (value: unknown) =>
  (Array.isArray(value) ? value : []).flatMap((each) => sheetFrom(each) ?? []);

/** The sheet kept under a name, with its steps; undefined if there is none, or it is damaged. */
export function takeOut(place: Place, origin: string): History | undefined {
  const entry = entryAt(place, entryKey(origin));
  const present = sheetFrom(entry?.present);
  if (entry === undefined || present === undefined) return undefined;
  const own = { ...present, origin };
  return { past: sheetsIn(entry.past), present: own, future: sheetsIn(entry.future), stroke: undefined };
}

/** Every sheet that is kept, the latest first. */
export function shelved(place: Place): readonly Label[] {
  const keys = Array.from({ length: place.length }, (_, k) => place.key(k) ?? "");
  return keys
    .filter((key) => key.startsWith(PREFIX))
    .flatMap((key): Label[] => {
      const { title, at } = entryAt(place, key) ?? {};
      if (typeof title !== "string" || typeof at !== "number") return [];
      return [{ origin: key.slice(PREFIX.length), title, at }];
    })
    .sort((a, b) => b.at - a.at);
}

/** Throws a sheet away; it can be brought back until another is. False if there is none. */
export function discard(place: Place, origin: string): boolean {
  const entry = place.getItem(entryKey(origin));
  if (entry === null) return false;
  place.removeItem(DISCARDED);
  place.removeItem(entryKey(origin));
  tried(() => place.setItem(DISCARDED, `${origin.length} ${origin}${entry}`));
  return true;
}

/** Origin and entry of what was thrown away last. */
function discardedEntry(place: Place): readonly [string, string] | undefined {
  const text = tried(() => place.getItem(DISCARDED)) ?? "";
  const [head = "", length] = /^(\d{1,6}) /.exec(text) ?? [];
  if (length === undefined) return undefined;
  const end = head.length + Number(length);
  return [text.slice(head.length, end), text.slice(end)];
}

/** The title of what was thrown away last and can be brought back. */
export function discarded(place: Place): string | undefined {
  const [, entry] = discardedEntry(place) ?? [];
  const value = entry === undefined ? undefined : tried(() => unpacked(entry) as { title?: unknown } | null);
  return typeof value?.title === "string" ? value.title : undefined;
}

/** Brings back what was thrown away last, unless the sheet has been opened and kept again since. */
export function bringBack(place: Place): boolean {
  const [origin, entry] = discardedEntry(place) ?? [];
  if (origin === undefined || entry === undefined) return false;
  const known = place.getItem(entryKey(origin)) !== null;
  place.removeItem(DISCARDED);
  if (!known) place.setItem(entryKey(origin), entry);
  return !known;
}
