/** Which sheet the page opens with: the one that was put into its file, else the demonstration recorder. */
import { DEMOS, FIRST_DEMO } from "./demos.ts";
import { blankSheet, SHEET_FORMAT, type SheetDocument } from "./state/document.ts";

/** Id of the element that holds a sheet in the file. */
const DATA = "sheet-data";

/** The day on the calendar of the bench, `2026-11-25`. */
export function today(now = new Date()): string {
  const two = (count: number) => String(count).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

/**
 * A sheet from its text, whatever is missing filled in; undefined if it is none. Nothing in it is trusted
 * further than its shape.
 */
export function readSheet(text: string, date = today()): SheetDocument | undefined {
  try {
    return sheetFrom(JSON.parse(text), date);
  } catch {
    return undefined;
  }
}

/** The same from the value that the text stands for. */
export function sheetFrom(value: unknown, date = today()): SheetDocument | undefined {
  if (!isRecord(value) || value.format !== SHEET_FORMAT || !isRecord(value.files)) return undefined;
  const { main, files, origin } = value;
  if (typeof main !== "string" || !Object.hasOwn(files, main) || typeof files[main] !== "string")
    return undefined;
  const texts = Object.fromEntries(Object.entries(files).filter(([, one]) => typeof one === "string"));
  const blank = blankSheet(main, texts as Record<string, string>, date);
  return {
    ...blank,
    ...(typeof origin === "string" && { origin }),
    ...(typeof value.date === "string" && value.date !== "" && { date: value.date }),
    settings: { ...blank.settings, ...settingsIn(value.settings) },
    readings: readingsIn(value.readings),
    ...(typeof value.notes === "string" && { notes: value.notes }),
    ...(isRecord(value.sections) && { sections: value.sections as SheetDocument["sections"] }),
    folded: Array.isArray(value.folded) ? value.folded.filter((id) => typeof id === "string") : [],
  };
}

function settingsIn(value: unknown): Partial<SheetDocument["settings"]> {
  if (!isRecord(value)) return {};
  const { mode, set, ambientCelsius, meter, isothermal } = value;
  return {
    ...(typeof mode === "string" && { mode }),
    ...(Array.isArray(set) && { set: set.filter(isState) }),
    ...(typeof ambientCelsius === "number" && Math.abs(ambientCelsius) < 200 && { ambientCelsius }),
    ...(typeof meter === "string" && { meter }),
    ...(typeof isothermal === "boolean" && { isothermal }),
  };
}

const isState = (value: unknown): boolean =>
  isRecord(value) &&
  typeof value.part === "string" &&
  typeof value.key === "string" &&
  (typeof value.value === "string" || Number.isFinite(value.value));

function readingsIn(value: unknown): SheetDocument["readings"] {
  if (!isRecord(value)) return {};
  return Object.fromEntries(
    Object.entries(value)
      .filter(([, ofMode]) => isRecord(ofMode))
      .map(([mode, ofMode]) => [
        mode,
        Object.fromEntries(
          Object.entries(ofMode as Record<string, unknown>).flatMap(([point, text]) =>
            typeof text === "string" ? [[point, text]] : [],
          ),
        ),
      ]),
  );
}

/** A sheet of one of the demonstration circuits. */
export function demoSheet(name = FIRST_DEMO, date = today()): SheetDocument {
  return blankSheet(name, { [name]: DEMOS[name] ?? "" }, date);
}

/** The text of the sheet that stands in the file; empty if none does. */
export const sheetText = (page: Document): string => page.getElementById(DATA)?.textContent?.trim() ?? "";
