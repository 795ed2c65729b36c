/** The sections of the sheet, in their order. A new one is a file beside this and a line here. */
import { cautions } from "./cautions.tsx";
import { conditions } from "./conditions.tsx";
import { response } from "./response.tsx";
import type { Section } from "./section.ts";
import { voltages } from "./voltages.tsx";

export const SECTIONS: readonly Section[] = [conditions, voltages, response, cautions];
