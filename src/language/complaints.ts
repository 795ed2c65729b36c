import type { Diagnostic } from "../circuit/diagnostic.ts";
import type { Span } from "./span.ts";

/** Collects what is wrong or doubtful, in the order it is found. */
export class Complaints {
  readonly #found: Diagnostic[] = [];
  #errors = 0;

  /** Errors so far; a reader compares before and after to know whether its statement failed. */
  get errors(): number {
    return this.#errors;
  }

  error(at: Span, message: string, hint?: string): void {
    this.#errors += 1;
    this.#add("error", at, message, hint);
  }

  warning(at: Span, message: string, hint?: string): void {
    this.#add("warning", at, message, hint);
  }

  #add(severity: "error" | "warning", at: Span, message: string, hint: string | undefined): void {
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
