/** The netlist language: text to a checked circuit. */
import type { Circuit } from "../circuit/circuit.ts";
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { checkCircuit } from "./checks/index.ts";
import { Complaints } from "./complaints.ts";
import { LIBRARY_FILE, LIBRARY_TEXT } from "./library.ts";
import { NetTable } from "./nets.ts";
import { type Files, Reader } from "./read.ts";
import { resolve } from "./resolve.ts";

export { drawDiagnostic } from "./draw.ts";
export { formatNetlist } from "./format.ts";
export { libraryTypes } from "./library.ts";
export { nearestWord } from "./nearest.ts";
export { readingAt, readingMode, readReading } from "./read-reading.ts";
export { type Refused, readQuantity, readSetting } from "./setting.ts";
export { writeValue } from "./units.ts";

export interface ReadOptions {
  /** The name of the text in diagnostics, and what `use` looks beside. */
  readonly file?: string;
  /**
   * Gives the text of the file that `use "NAME"` names in the file `from`; nothing if there is none, or
   * `{ message, hint }` if what is there cannot be used.
   */
  readonly files?: Files;
}

export interface ReadResult {
  /** Absent if there is an error. */
  readonly circuit?: Circuit;
  /** Errors and warnings by file, line and column. */
  readonly diagnostics: readonly Diagnostic[];
  /** Text by file, to draw the marked lines. */
  readonly sources: ReadonlyMap<string, string>;
}

const titleFrom = (file: string) => file.replace(/^.*[/\\]/, "").replace(/\.netlist$/, "");

/**
 * Reads a netlist. Never throws, whatever the text: everything wrong with it, or doubtful, is in
 * `diagnostics`.
 */
export function readNetlist(text: string, options: ReadOptions = {}): ReadResult {
  const file = options.file ?? "netlist";
  const complaints = new Complaints();
  const reader = new Reader(complaints, options.files);
  reader.file(file, text);
  const table = new NetTable(reader.draft);
  const circuit = resolve(reader.draft, table, titleFrom(file));
  checkCircuit(circuit, reader.draft, table);
  const { sources } = reader;
  if (reader.draft.usesLibrary) sources.set(LIBRARY_FILE, LIBRARY_TEXT);
  const diagnostics = complaints.sorted([...sources.keys()]);
  return complaints.errors > 0 ? { diagnostics, sources } : { circuit, diagnostics, sources };
}
