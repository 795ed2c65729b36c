/**
 * Something wrong, or doubtful, with its place. One value serves terminal, JSON and page; the drawing
 * of the marked line comes later.
 */
export interface Diagnostic {
  readonly severity: "error" | "warning";
  /** One sentence that stands alone. */
  readonly message: string;
  /** What was probably meant, or what to do. */
  readonly hint?: string;
  readonly file: string;
  /** Lines and columns count from 1. */
  readonly line: number;
  readonly column: number;
  /** How many characters of the line are meant. */
  readonly length: number;
}
