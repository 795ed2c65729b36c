/** The voltage chart as a page and as a worksheet: loaded when one is asked for, for what draws them is large. */
import { type BandConditions, healthyBands } from "../bench/healthy-bands.ts";
import type { VoltageChart } from "../bench/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { ACCURACY } from "../library-suspects.ts";
import { reportHtml } from "../report/html.ts";
import { voltagesSpreadsheet } from "../report/spreadsheet.ts";
import type { Forms } from "./output.ts";

/** What writes each kind of file; `phrases` are the conditions of the run. */
export function voltageFiles(
  circuit: Circuit,
  charts: readonly VoltageChart[],
  conditions: Omit<BandConditions, "accuracy">,
  phrases: () => readonly string[],
): NonNullable<Forms["files"]> {
  return {
    ".html": () => reportHtml(circuit, { conditions: phrases(), charts }),
    ".fods": () => {
      const band = (mode: string) => healthyBands(circuit, mode, { ...conditions, accuracy: ACCURACY });
      const bands = Object.fromEntries(charts.map(({ mode }) => [mode, band(mode)]));
      return voltagesSpreadsheet(circuit, charts, { phrases: phrases(), bands, bandNote: BAND_NOTE });
    },
  };
}

const BAND_NOTE = `healthy: where 19 of 20 sound specimens lie on a meter of ±${100 * ACCURACY} %, by the tolerances of the parts and the samples of the transistors`;
