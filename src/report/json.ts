/** The machine-readable output, as docs/result.schema.json describes it. */
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { finiteDecibels } from "./numbers.ts";

const FORMAT = "preprobe/1";

/** Numbers at full precision. What JSON cannot hold: silence is −400 dB, anything else null. */
function finite(key: string, value: unknown): unknown {
  if (key === "gain_db" && Array.isArray(value)) return value.map(finiteDecibels);
  if (key === "gain_db" && typeof value === "number") return finiteDecibels(value);
  return typeof value === "number" && !Number.isFinite(value) ? null : value;
}

/** Indented, with lists of numbers each on one line. */
const written = (value: object): string =>
  `${JSON.stringify(value, finite, 2).replace(/\[\n[-+\d.eE,\s]*\]/g, (list) => list.replace(/\s+/g, " "))}\n`;

interface ErrorEntry {
  message: string;
  file?: string;
  line?: number;
  column?: number;
  hint?: string;
}

const entry = ({ message, file, line, column, hint }: ErrorEntry) => ({ message, file, line, column, hint });

/** One object for a run that has results; with the errors of modes that have no solution, if there are any. */
export function resultsJson(run: {
  command: string;
  circuit: string;
  warnings: readonly Diagnostic[];
  results: readonly unknown[];
  errors?: readonly ErrorEntry[];
}): string {
  const warnings = run.warnings.map(({ message, file, line, column }) => ({ message, file, line, column }));
  return written({
    format: FORMAT,
    command: run.command,
    circuit: run.circuit,
    warnings,
    results: run.results,
    errors: run.errors?.map(entry),
  });
}

/** One object for a run that has none, and why. */
export function errorsJson(run: { command: string; errors: readonly ErrorEntry[] }): string {
  return written({ format: FORMAT, command: run.command, errors: run.errors.map(entry) });
}
