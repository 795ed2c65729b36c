/** Everything that can happen to a sheet, and what comes of it. */
import type { PartState } from "../../circuit/circuit.ts";
import { AS_DRAWN, type Json, type Settings, type SheetDocument } from "./document.ts";

export type Change =
  | { readonly kind: "mode"; readonly mode: string }
  | { readonly kind: "set"; readonly state: PartState }
  | { readonly kind: "ambient"; readonly celsius: number }
  | { readonly kind: "meter"; readonly text: string }
  /** Every control as the netlist has it. */
  | { readonly kind: "as drawn" }
  /** An empty text: nothing was read here, whatever the netlist says. */
  | { readonly kind: "reading"; readonly mode: string; readonly point: string; readonly text: string }
  | { readonly kind: "text"; readonly file: string; readonly text: string }
  | { readonly kind: "notes"; readonly text: string }
  | { readonly kind: "section"; readonly id: string; readonly value: Json }
  | { readonly kind: "fold"; readonly id: string; readonly folded: boolean }
  /** Another sheet, or another circuit, in place of this one. */
  | { readonly kind: "open"; readonly document: SheetDocument };

/** Where one looks is nothing to be undone. */
export const isUndoable = ({ kind }: Change): boolean => kind !== "mode" && kind !== "fold";

const settle = (document: SheetDocument, settings: Partial<Settings>): SheetDocument => ({
  ...document,
  settings: { ...document.settings, ...settings },
});

function withSet(set: readonly PartState[], state: PartState): readonly PartState[] {
  const others = set.filter(({ part, key }) => part !== state.part || key !== state.key);
  return [...others, state];
}

/** The sheet after a change. */
export function changed(document: SheetDocument, change: Change): SheetDocument {
  switch (change.kind) {
    case "mode":
      return settle(document, { mode: change.mode });
    case "set":
      return settle(document, { set: withSet(document.settings.set, change.state) });
    case "ambient":
      return settle(document, { ambientCelsius: change.celsius });
    case "meter":
      return settle(document, { meter: change.text });
    case "as drawn":
      return settle(document, { ...AS_DRAWN, mode: document.settings.mode, meter: document.settings.meter });
    case "reading": {
      const { mode, point, text } = change;
      const ofMode = { ...document.readings[mode], [point]: text };
      return { ...document, readings: { ...document.readings, [mode]: ofMode } };
    }
    case "text":
      return { ...document, files: { ...document.files, [change.file]: change.text } };
    case "notes":
      return { ...document, notes: change.text };
    case "section":
      return { ...document, sections: { ...document.sections, [change.id]: change.value } };
    case "fold": {
      const others = document.folded.filter((id) => id !== change.id);
      return { ...document, folded: change.folded ? [...others, change.id] : others };
    }
    case "open":
      return change.document;
  }
}
