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
      // no room, or storage is forbidden: the next try is smaller
    }
  }
  return "This browser keeps nothing more: what you do now is lost with the page. Save the sheet as a file.";
}

function entryAt(place: Place, key: string): Readonly<Record<string, unknown>> | undefined {
  try {
    const value = unpacked(place.getItem(key) ?? "") as Record<string, unknown> | null;
    return value?.version === VERSION ? value : undefined;
  } catch {
    return undefined;
  }
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
