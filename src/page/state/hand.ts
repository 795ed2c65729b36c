/** What the hand holds, what is said aloud, and where to measure next: states of the moment, kept nowhere. */
import { signal } from "@preact/signals";
import { endStroke } from "./store.ts";

/** The control that is held, if any. */
export const held = signal<string | undefined>(undefined);

export function hold(control: string): void {
  held.value = control;
}

/** The hand lets go: the step is complete. */
export function release(): void {
  held.value = undefined;
  endStroke();
}

/**
 * A control loses the focus, which lets go of it alone: pressing on the next one takes hold of that first, and only
 * then does the focus leave the one before.
 */
export function releaseOnly(control: string): void {
  if (held.peek() === control) release();
}

/** What a screen reader says next; sections that are looked at say their own. */
export const announcement = signal("");

export function announce(text: string): void {
  announcement.value = text;
}

export interface PointToMeasure {
  readonly mode: string;
  /** A pin or a net, `T3.c`. */
  readonly point: string;
}

/** The point most worth measuring next; set by the suspects, read by the chart. */
export const nextPoint = signal<PointToMeasure | undefined>(undefined);
