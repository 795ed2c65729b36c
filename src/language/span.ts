/** A stretch of one line of a file; lines and columns count from 1. */
export interface Span {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

/** From the beginning of `a` to the end of `b`, or `a` alone where they stand on different lines. */
export function across(a: Span, b: Span): Span {
  if (a.line !== b.line || a.file !== b.file || b.column < a.column) return a;
  return { file: a.file, line: a.line, column: a.column, length: b.column + b.length - a.column };
}

/** The place of a span, as the circuit keeps it. */
export const placeOf = ({ file, line, column }: Span) => ({ file, line, column });
