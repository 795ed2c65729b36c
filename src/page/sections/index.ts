/** The sections of the sheet, in their order. A new one is a file beside this and a line here. */
import { cautions } from "./cautions.tsx";
import { conditions } from "./conditions.tsx";
import { netlist } from "./netlist.tsx";
import { oscillator } from "./oscillator.tsx";
import { response } from "./response.tsx";
import type { Section } from "./section.ts";
import { stages } from "./stages.tsx";
import { substitutes } from "./substitutes.tsx";
import { suspects } from "./suspects.tsx";
import { voltages } from "./voltages.tsx";
import { waveforms } from "./waveforms.tsx";

const ALL: readonly (Section | undefined)[] = [
  conditions,
  voltages,
  response,
  stages,
  substitutes,
  oscillator,
  suspects,
  waveforms,
  netlist,
  cautions,
];

export const SECTIONS: readonly Section[] = ALL.filter((section) => section !== undefined);
