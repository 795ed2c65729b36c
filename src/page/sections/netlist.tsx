import type { Section } from "./section.ts";

/** Not there yet. */
export const netlist: Section | undefined = undefined;
