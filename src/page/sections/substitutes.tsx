import type { Section } from "./section.ts";

/** Not there yet. */
export const substitutes: Section | undefined = undefined;
