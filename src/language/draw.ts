/** A diagnostic as text for a terminal: the sentence, the line with the place marked, the hint. */
import type { Diagnostic } from "../circuit/diagnostic.ts";

/** More of a line than this is cut, around the marked place. */
const WIDEST = 100;

const PAINT = { error: "\u001b[31m", warning: "\u001b[33m", off: "\u001b[0m", bold: "\u001b[1m" } as const;

/**
 * `FILE:LINE:COLUMN: error: sentence`, the line itself with the place marked beneath, and the hint.
 * `source` is the text of the diagnostic's file; without it the line is left out.
 */
export function drawDiagnostic(d: Diagnostic, source: string | undefined, color = false): string {
  const paint = (text: string, ...codes: (keyof typeof PAINT)[]) =>
    color ? codes.map((code) => PAINT[code]).join("") + text + PAINT.off : text;
  const head = `${d.file}:${d.line}:${d.column}: ${paint(`${d.severity}:`, "bold", d.severity)} ${d.message}`;
  const line = source?.split(/\r\n?|\n/)[d.line - 1];
  const lines = [head];
  if (line !== undefined && line.trim() !== "") {
    const { text, mark } = excerpt(line, d.column - 1, d.length);
    lines.push(`    ${text}`, `    ${mark.replace(/\S+/, (marks) => paint(marks, d.severity))}`);
  }
  if (d.hint !== undefined) lines.push(`    → ${d.hint}`);
  return lines.join("\n");
}

/** The part of a line around the marked place, and the line of marks beneath it. */
function excerpt(line: string, start: number, length: number): { text: string; mark: string } {
  const shown = printable(line);
  const from = shown.length <= WIDEST ? 0 : Math.max(0, Math.min(start - 30, shown.length - WIDEST));
  const to = Math.min(shown.length, from + WIDEST);
  const [before, after] = [from > 0 ? "… " : "", to < shown.length ? " …" : ""];
  const marks = Math.max(1, Math.min(length, to - start));
  return {
    text: (before + shown.slice(from, to) + after).trimEnd(),
    mark: " ".repeat(before.length + start - from) + "‾".repeat(marks),
  };
}

/** Tabs as one blank each, so that columns stay columns; other control characters as dots. */
function printable(line: string): string {
  let text = "";
  for (const char of line) {
    const code = char.charCodeAt(0);
    text += code === 9 || code === 0xfeff ? " " : code < 32 || code === 127 ? "·" : char;
  }
  return text;
}
