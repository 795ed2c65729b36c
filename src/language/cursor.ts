import type { Word } from "./scan.ts";
import type { Span } from "./span.ts";

/** Walks over the words of a statement. */
export class Cursor {
  readonly #words: readonly Word[];
  readonly #before: Word;
  #next = 0;

  /** `before` is the word in front of the first, where something missing is marked. */
  constructor(words: readonly Word[], before: Word) {
    this.#words = words;
    this.#before = before;
  }

  /** The next word, or the one `ahead` of it; nothing past the end. */
  peek(ahead = 0): Word | undefined {
    return this.#words[this.#next + ahead];
  }

  take(): Word | undefined {
    const word = this.#words[this.#next];
    if (word !== undefined) this.#next += 1;
    return word;
  }

  /** Takes the next word if it is this one. */
  takeIf(text: string): Word | undefined {
    const word = this.peek();
    return word !== undefined && word.text === text && !word.quoted ? this.take() : undefined;
  }

  get done(): boolean {
    return this.#next >= this.#words.length;
  }

  /** The word last taken: the place of something missing. */
  get last(): Word {
    return this.#words[this.#next - 1] ?? this.#before;
  }

  /** The next word, or the last one at the end. */
  get here(): Span {
    return this.peek() ?? this.last;
  }

  /** Takes all that is left. */
  rest(): readonly Word[] {
    const rest = this.#words.slice(this.#next);
    this.#next = this.#words.length;
    return rest;
  }
}
