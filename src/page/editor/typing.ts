/** From the editor to the sheet: what is typed is read a moment later, and one stretch of typing is one step. */
import { dispatch, endStroke } from "../state/store.ts";

/** Until what is typed is read, ms: about the pause between two keys. */
const DELAY = 150;
/** A pause that ends a step to be undone, ms. */
const PAUSE = 800;

let waiting: { readonly file: string; readonly text: string } | undefined;
let reading: ReturnType<typeof setTimeout> | undefined;
let ending: ReturnType<typeof setTimeout> | undefined;

/** The text of a file as it stands in the editor now. */
export function typed(file: string, text: string): void {
  waiting = { file, text };
  clearTimeout(reading);
  clearTimeout(ending);
  reading = setTimeout(readNow, DELAY);
  ending = setTimeout(stopTyping, PAUSE);
}

/** Whether the sheet does not know yet what was typed into a file. */
export const isTyping = (file: string): boolean => waiting?.file === file;

/** Hands over what was typed last without waiting. */
export function readNow(): void {
  clearTimeout(reading);
  const now = waiting;
  waiting = undefined;
  if (now !== undefined) dispatch({ kind: "text", ...now }, `text ${now.file}`);
}

/** The hand is off the keys: what follows is another step. */
export function stopTyping(): void {
  clearTimeout(ending);
  readNow();
  endStroke();
}
