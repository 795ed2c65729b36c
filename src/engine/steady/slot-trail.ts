import { type Pattern, PatternBuilder } from "../kernel/pattern.ts";

/** Finds the slots of entries that are always written in the same order: looked up once, then only followed. */
export class SlotTrail {
  readonly #builder: PatternBuilder;
  readonly #trail: number[] = [];
  #at = 0;

  constructor(size: number) {
    this.#builder = new PatternBuilder(size);
  }

  /** The first pass. */
  mention(row: number, column: number): void {
    this.#trail.push(this.#builder.slot(row, column));
  }

  finish(): Pattern {
    return this.#builder.finish();
  }

  /** Begins another pass. */
  rewind(): void {
    this.#at = 0;
  }

  /** The slot of the next entry of the pass. */
  next(): number {
    return this.#trail[this.#at++]!;
  }
}
