import type { Diagnostic } from "../circuit/diagnostic.ts";
import type { Span } from "./span.ts";

/** A file with more of them than this is no netlist with slips in it: reading stops. */
const MOST = 1000;

/** Collects what is wrong or doubtful, in the order it is found. */
export class Complaints {
  readonly #found: Diagnostic[] = [];
  readonly #count = { error: 0, warning: 0 };

  /** Errors so far; a reader compares before and after to know whether its statement failed. */
  get errors(): number {
    return this.#count.error;
  }

  /** So many errors or warnings that no more are looked for. */
  isFull(severity: "error" | "warning"): boolean {
    return this.#count[severity] > MOST;
  }

  error(at: Span, message: string, hint?: string): void {
    this.#complain("error", at, message, hint);
  }

  warning(at: Span, message: string, hint?: string): void {
    this.#complain("warning", at, message, hint);
  }

  #complain(severity: "error" | "warning", at: Span, message: string, hint: string | undefined): void {
    const wasFull = this.isFull(severity);
    this.#count[severity] += 1;
    if (!this.isFull(severity)) this.#add(severity, at, message, hint);
    else if (!wasFull)
      this.#add(severity, at, `There are more than ${MOST} ${severity}s; the rest are not reported`);
  }

  #add(severity: "error" | "warning", at: Span, message: string, hint?: string): void {
    const { file, line, column, length } = at;
    this.#found.push({ severity, message, ...(hint !== undefined && { hint }), file, line, column, length });
  }

  /** All of them by file (in the order of `files`), line and column. An error silences warnings at its place. */
  sorted(files: readonly string[]): Diagnostic[] {
    const rank = new Map(files.map((file, k) => [file, k]));
    const failed = new Set(this.#found.filter((d) => d.severity === "error").map(placeKey));
    return this.#found
      .filter((d) => d.severity === "error" || !failed.has(placeKey(d)))
      .sort(
        (a, b) =>
          (rank.get(a.file) ?? files.length) - (rank.get(b.file) ?? files.length) ||
          a.line - b.line ||
          a.column - b.column,
      );
  }
}

const placeKey = (d: Diagnostic) => `${d.line}:${d.column}:${d.file}`;
