import type { Section } from "./section.ts";

/** Not there yet. */
export const oscillator: Section | undefined = undefined;
