/** What the statements say before names are looked up: the text's side of the circuit. */
import type { DeviceType, Pole, Tolerance } from "../circuit/circuit.ts";
import type { PartKind } from "../parts/kind.ts";
import type { Complaints } from "./complaints.ts";
import type { Word } from "./scan.ts";
import type { Span } from "./span.ts";

/** A pin and the point it was connected to, if the statement says so. */
export interface Joint {
  readonly pin: string;
  readonly point?: Word;
}

export interface DraftWinding {
  readonly name: string;
  readonly turns: readonly number[];
  readonly pins: readonly number[];
  readonly dcr: number;
}

export interface DraftPart {
  readonly kind: PartKind;
  readonly name: Word;
  readonly joints: Joint[];
  readonly values: Record<string, number>;
  readonly choices: Record<string, string>;
  /** Where a value or name stands, by key. */
  readonly spans: Map<string, Span>;
  type?: Word;
  tolerance?: Tolerance;
  windings?: DraftWinding[];
  positions?: string[];
  poles?: Pole[];
  /** Its statement has an error: nothing may be concluded from it. */
  failed: boolean;
}

/** A statement kept as words until every name is known. */
export interface Pending {
  readonly keyword: Word;
  readonly name?: Word;
  readonly words: readonly Word[];
}

export interface DraftType {
  readonly type: DeviceType;
  readonly at: Span;
}

/** Everything that the statements of a netlist and the files it uses have said. */
export class Draft {
  readonly complaints: Complaints;
  /** The netlist itself: its title and ambient go before those of the files it uses. */
  main?: string;
  title?: Word;
  ambient?: { readonly celsius: number; readonly at: Span };
  readonly parts = new Map<string, DraftPart>();
  /** Parts and wires (lists of points) in the order of the file. */
  readonly joins: (DraftPart | readonly Word[])[] = [];
  readonly tolerances = new Map<string, { readonly tolerance: Tolerance; readonly at: Span }>();
  readonly types = new Map<string, DraftType>();
  readonly pending: Pending[] = [];
  /** Modes and paths by keyword and name. */
  readonly named = new Map<string, Word>();
  /** Words of failed statements: whatever they name is not to be judged. */
  readonly uncertain = new Set<string>();
  /** Names of parts, types and modes whose own statement failed. */
  readonly lost = new Set<string>();
  /** A file could not be read: names may be missing for that reason alone. */
  incomplete = false;
  usesLibrary = false;

  constructor(complaints: Complaints) {
    this.complaints = complaints;
  }

  /** Remembers the names in a failed statement so that it causes no further errors. */
  doubt(words: readonly Word[]): void {
    for (const word of words) this.uncertain.add(word.text);
  }
}
