import type { Section } from "./section.ts";

/** Not there yet. */
export const waveforms: Section | undefined = undefined;
