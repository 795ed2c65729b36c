/** What the readers of a part's statement share. */
import type { PartKind } from "../parts/kind.ts";
import type { Complaints } from "./complaints.ts";
import { Cursor } from "./cursor.ts";
import type { DraftPart } from "./draft.ts";
import type { Setting } from "./quantity.ts";
import type { Word } from "./scan.ts";

export class PartContext {
  readonly kind: PartKind;
  readonly part: DraftPart;
  readonly cursor: Cursor;
  readonly complaints: Complaints;
  /** Its points are written `A to B`: a word before `to` is then a point and nothing else. */
  readonly joins: boolean;
  /** The first word of the connection. */
  connection: Word | undefined;
  /** Something was not understood: what seems to be missing may be just that. */
  puzzled = false;

  constructor(kind: PartKind, name: Word, words: readonly Word[], complaints: Complaints) {
    this.kind = kind;
    this.complaints = complaints;
    this.cursor = new Cursor(words, name);
    this.joins = kind.connection.form === "to";
    this.part = { kind, name, joints: [], values: {}, choices: {}, spans: new Map(), failed: false };
  }

  get owner(): string {
    return this.part.name.text;
  }

  get setting(): Setting {
    return { owner: this.owner, complaints: this.complaints, joins: this.joins };
  }

  /** Whether the next word is a connection point because `to` follows it. */
  get pointIsNext(): boolean {
    return this.joins && this.cursor.peek(1)?.text === "to";
  }
}
