/** The voltage chart as a page and as a worksheet: loaded when one is asked for, for what draws them is large. */
import type { VoltageChart } from "../bench/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { reportHtml } from "../report/html.ts";
import { voltagesSpreadsheet } from "../report/spreadsheet.ts";
import type { Forms } from "./output.ts";

/** What writes each kind of file; `phrases` are the conditions of the run. */
export function voltageFiles(
  circuit: Circuit,
  charts: readonly VoltageChart[],
  phrases: () => readonly string[],
): NonNullable<Forms["files"]> {
  return {
    ".html": () => reportHtml(circuit, { conditions: phrases(), charts }),
    ".fods": () => voltagesSpreadsheet(circuit, charts),
  };
}
