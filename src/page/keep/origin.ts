/** The name under which a sheet is kept: that of its file, and a number made of what was in it. */
import type { SheetDocument } from "../state/document.ts";

/** FNV-1a over the UTF-16 units, two runs of 32 bits (public domain, G. Fowler, L. C. Noll, P. Vo; from memory). */
export function digest(text: string): string {
  const run = (start: number): string => {
    let hash = start;
    for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
    return (hash >>> 0).toString(16).padStart(8, "0");
  };
  return run(0x811c9dc5) + run(0x5bd1e995);
}

/** A circuit opened as a netlist: the same netlist is the same circuit. */
export const ofCircuit = (document: SheetDocument): SheetDocument => ({
  ...document,
  origin: `${document.main} ${digest(JSON.stringify([document.main, document.files]))}`,
});

/** A sheet that was in a file: that file, as it was, whatever circuit it is of. */
export const ofFile = (document: SheetDocument, text: string): SheetDocument => ({
  ...document,
  origin: `${document.main} ${digest(text)}`,
});
