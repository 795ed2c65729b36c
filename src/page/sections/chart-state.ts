/** What is open in the voltage chart: of the moment, kept nowhere. */
import { signal } from "@preact/signals";

/** Whether the nets that one seldom probes are open to the eye. */
export const furtherOpen = signal(false);

/** The figure whose parts are shown, by its key. */
export const opened = signal<string | undefined>(undefined);

/** Shows the parts of a figure, or no longer. */
export function open(key: string): void {
  opened.value = opened.value === key ? undefined : key;
}
