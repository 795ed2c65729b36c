import type { Circuit, Mode, Part } from "../../circuit/circuit.ts";
import { inMode, modesOf } from "../../circuit/conditions.ts";
import type { Draft } from "../draft.ts";
import type { NetTable } from "../nets.ts";
import type { Span } from "../span.ts";

/** A circuit under examination, and where its parts and nets stand in the text. */
export class Examined {
  readonly circuit: Circuit;
  readonly draft: Draft;
  readonly table: NetTable;
  readonly #inMode = new Map<Mode, Circuit>();

  constructor(circuit: Circuit, draft: Draft, table: NetTable) {
    this.circuit = circuit;
    this.draft = draft;
    this.table = table;
  }

  /** The circuit as it stands in each of its modes. */
  get inModes(): readonly Circuit[] {
    return modesOf(this.circuit).map((mode) => {
      const known = this.#inMode.get(mode) ?? inMode(this.circuit, mode);
      this.#inMode.set(mode, known);
      return known;
    });
  }

  /** Whether the part's own statement is sound, so that its kind's words apply to it. */
  sound(part: Part): boolean {
    return this.draft.parts.get(part.name)?.failed === false;
  }

  partSpan(part: Part, key?: string): Span {
    const draft = this.draft.parts.get(part.name);
    return (
      (key === undefined ? undefined : draft?.spans.get(key)) ?? draft?.name ?? { ...part.place, length: 1 }
    );
  }

  readonly netSpan = (net: number): Span => this.table.places[net]!;
}
