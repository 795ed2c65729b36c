import type { Section } from "./section.ts";

/** Not there yet. */
export const suspects: Section | undefined = undefined;
