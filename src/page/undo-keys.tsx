/** Ctrl+Z and Ctrl+Y anywhere on the sheet; an editor that undoes by itself stops them before they get here. */
import { useEffect } from "preact/hooks";
import { announce } from "./state/hand.ts";
import { canRedo, canUndo, redo, undo } from "./state/store.ts";

export function takeBack(): void {
  announce(canUndo.value ? "taken back" : "there is nothing to take back");
  undo();
}

export function doAgain(): void {
  announce(canRedo.value ? "done again" : "there is nothing to do again");
  redo();
}

function onKey(event: KeyboardEvent): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || event.defaultPrevented) return;
  const key = event.key.toLowerCase();
  if (key !== "z" && key !== "y") return;
  event.preventDefault();
  if (key === "y" || event.shiftKey) doAgain();
  else takeBack();
}

export function UndoKeys() {
  useEffect(() => {
    document.addEventListener("keydown", onKey);
    return () => document.removeEventListener("keydown", onKey);
  }, []);
  return null;
}
