import type { Section } from "./section.ts";

/** Not there yet. */
export const stages: Section | undefined = undefined;
