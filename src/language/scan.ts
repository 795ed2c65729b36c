import type { Complaints } from "./complaints.ts";
import type { Span } from "./span.ts";

/** A run of characters between blanks; `text` of a quoted one is what stands between the quotes. */
export interface Word extends Span {
  readonly text: string;
  /** The first of its line. */
  readonly first: boolean;
  readonly quoted?: true;
}

export interface Line {
  readonly number: number;
  readonly indented: boolean;
  readonly words: readonly Word[];
  /** From `#` to the end, blanks at the end dropped. */
  readonly comment?: string;
}

const QUOTE = 0x22;
const HASH = 0x23;
const COMMA = 0x2c;
const DOT = 0x2e;
const PLUS_MINUS = 0xb1;

/** Blanks of all kinds that text copied from a page may hold; control characters count as blanks too. */
function isBlank(code: number): boolean {
  if (code <= 0x20) return true;
  if (code < 0xa0) return code === 0x7f;
  return (
    code === 0xa0 ||
    (code >= 0x2000 && code <= 0x200b) ||
    code === 0x202f ||
    code === 0x205f ||
    code === 0x3000 ||
    code === 0xfeff
  );
}

const isDigit = (code: number) => code >= 0x30 && code <= 0x39;

/** Where the word that begins at `start` ends: before a blank, `#`, `"`, `±`, `..` or a comma that is no decimal comma. */
function wordEnd(text: string, start: number, end: number): number {
  let k = start + 1;
  for (; k < end; k++) {
    const code = text.charCodeAt(k);
    // letters, digits and most signs
    if (code > DOT && code < 0x7f) continue;
    if (isBlank(code) || code === HASH || code === QUOTE || code === PLUS_MINUS) break;
    if (code === DOT && text.charCodeAt(k + 1) === DOT) break;
    if (code === COMMA && !(isDigit(text.charCodeAt(k - 1)) && isDigit(text.charCodeAt(k + 1)))) break;
  }
  return k;
}

/** Splits the lines of a file into words. `firstLine` is the number of the first, for a part of a file. */
export class Scanner {
  readonly #file: string;
  readonly #text: string;
  readonly #complaints: Complaints;

  constructor(file: string, text: string, complaints: Complaints) {
    this.#file = file;
    this.#text = text;
    this.#complaints = complaints;
  }

  /** The lines between two offsets of the text, the first of them having the number given. */
  lines(from = 0, to = this.#text.length, firstLine = 1): Line[] {
    const lines: Line[] = [];
    let start = from;
    for (let number = firstLine; start <= to; number++) {
      const newline = this.#text.indexOf("\n", start);
      const next = newline < 0 || newline > to ? to : newline;
      lines.push(this.#line(start, next, number));
      start = next + 1;
    }
    return lines;
  }

  #line(start: number, end: number, number: number): Line {
    const words: Word[] = [];
    const indented = start < end && isBlank(this.#text.charCodeAt(start));
    let k = start;
    while (k < end) {
      const code = this.#text.charCodeAt(k);
      if (code === HASH) return { number, indented, words, comment: this.#text.slice(k, end).trimEnd() };
      if (isBlank(code)) {
        k += 1;
        continue;
      }
      const word = this.#word(k, end, start, number, words.length === 0);
      words.push(word);
      k = start + word.column - 1 + word.length;
    }
    return { number, indented, words };
  }

  #word(at: number, end: number, lineStart: number, line: number, first: boolean): Word {
    const column = at - lineStart + 1;
    if (this.#text.charCodeAt(at) === QUOTE) return this.#quoted(at, end, column, line, first);
    const text = this.#text.slice(at, this.#wordEnd(at, end));
    return { text, file: this.#file, line, column, length: text.length, first };
  }

  #wordEnd(at: number, end: number): number {
    const code = this.#text.charCodeAt(at);
    if (code === COMMA) return at + 1;
    if (code === DOT && this.#text.charCodeAt(at + 1) === DOT) return Math.min(end, at + 2);
    return wordEnd(this.#text, at, end);
  }

  #quoted(at: number, end: number, column: number, line: number, first: boolean): Word {
    const closing = this.#text.indexOf('"', at + 1);
    const closed = closing >= 0 && closing < end;
    const text = closed ? this.#text.slice(at + 1, closing) : this.#text.slice(at + 1, end).trimEnd();
    const length = text.length + (closed ? 2 : 1);
    const word = { text, file: this.#file, line, column, length, first, quoted: true } as const;
    if (!closed) {
      this.#complaints.error(
        word,
        "The quotation mark is not closed on this line",
        'put a " behind the last word of it',
      );
    }
    return word;
  }
}
