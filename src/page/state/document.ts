/** All that a sheet is: plain data, written as JSON and read back exactly. */
import type { PartState } from "../../circuit/circuit.ts";

export const SHEET_FORMAT = "preprobe-sheet/1";

export type Json =
  | null
  | boolean
  | number
  | string
  | readonly Json[]
  | { readonly [key: string]: Json | undefined };

/** How the set stands at the bench. */
export interface Settings {
  /** The mode looked at. */
  readonly mode: string;
  /** Over the settings of every mode, as `--set` does; one entry a part and key. */
  readonly set: readonly PartState[];
  /** null: the netlist's own. */
  readonly ambientCelsius: number | null;
  /** As typed, `20 kΩ/V`; empty for an ideal one. */
  readonly meter: string;
  readonly isothermal: boolean;
}

/** Texts of readings by mode and point. What the netlist reads there counts where nothing stands here. */
export type Readings = Readonly<Record<string, Readonly<Record<string, string>>>>;

export interface SheetDocument {
  readonly format: typeof SHEET_FORMAT;
  /** Under which name it is kept, the same through all edits; given when it is opened. */
  readonly origin?: string;
  /** The day on the sheet, `2026-11-25`. */
  readonly date: string;
  /** The file that is the circuit; `files` holds it and those that it uses. */
  readonly main: string;
  readonly files: Readonly<Record<string, string>>;
  readonly settings: Settings;
  readonly readings: Readings;
  readonly notes: string;
  /** What a section keeps of its own, by its id. */
  readonly sections: Readonly<Record<string, Json>>;
  /** Ids of sections folded to their title. */
  readonly folded: readonly string[];
}

/** What was typed at a point; points and modes may be called as nothing else is, `constructor` too. */
export function readingTyped(readings: Readings, mode: string, point: string): string | undefined {
  const ofMode = Object.hasOwn(readings, mode) ? readings[mode] : undefined;
  return ofMode !== undefined && Object.hasOwn(ofMode, point) ? ofMode[point] : undefined;
}

export const AS_DRAWN: Settings = { mode: "", set: [], ambientCelsius: null, meter: "", isothermal: false };

/** A sheet of a circuit on which nothing has been done yet. */
export const blankSheet = (
  main: string,
  files: Readonly<Record<string, string>>,
  date: string,
  settings: Partial<Settings> = {},
): SheetDocument => ({
  format: SHEET_FORMAT,
  date,
  main,
  files,
  settings: { ...AS_DRAWN, ...settings },
  readings: {},
  notes: "",
  sections: {},
  folded: [],
});
