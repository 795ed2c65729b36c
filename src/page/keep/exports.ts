/** What the sheet gives out besides itself: tables, a worksheet, a drawing, the netlist. */
import type { PathResponse, VoltageChart } from "../../bench/results.ts";
import type { SuspectsResult } from "../../bench/suspects/results.ts";
import { voltages } from "../../bench/voltages.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import type { TakenReading } from "../../circuit/look.ts";
import { bodeSvg } from "../../report/bode-svg.ts";
import { conditionPhrases } from "../../report/condition-phrases.ts";
import { lines, responseCsv, voltagesCsv } from "../../report/csv.ts";
import { voltagesSpreadsheet } from "../../report/spreadsheet.ts";
import { suspectsCsv } from "../../report/suspects-csv.ts";
import { conditions, meter, responses } from "../compute/live.ts";
import { circuit } from "../compute/netlist.ts";
import { suspected } from "../compute/suspected.ts";
import { taken } from "../compute/taken.ts";
import { sheet } from "../state/store.ts";
import { download, fileName } from "./save.ts";

/** The circuit with the sheet's readings for its own. */
function withReadings(now: Circuit, readings: readonly TakenReading[]): Circuit {
  const place = { file: "", line: 0, column: 0 };
  return {
    ...now,
    readings: readings.flatMap(({ mode, point, look, value: volts }) =>
      look.kind === "voltage" && look.minus === 0 ? [{ mode, net: look.net, point, volts, place }] : [],
    ),
  };
}

interface Whole {
  readonly circuit: Circuit;
  readonly charts: readonly VoltageChart[];
  readonly phrases: readonly string[];
}

/** Every mode's chart, with the readings. */
function wholeChart(): Whole | undefined {
  if (circuit.value === undefined) return undefined;
  const now = withReadings(circuit.value, taken.value.readings);
  const asked = { ...conditions.value, ...(meter.value !== undefined && { meter: meter.value }) };
  const charts = voltages(now, asked).results;
  return { circuit: now, charts, phrases: conditionPhrases(now, conditions.value, charts, meter.value) };
}

/** Volts go without saying. */
const UNITS = { voltage: "", current: " A", resistance: " ohm", gain: " dB" } as const;

/** A row a reading, in the form that is read back. */
export const readingsCsv = (readings: readonly TakenReading[]): string =>
  lines([
    ["point", "mode", "value"],
    ...readings.map(({ point, mode, look, value }) => [point, mode, `${value}${UNITS[look.kind]}`]),
  ]);

function drawing(list: readonly PathResponse[]): string {
  const now = circuit.value!;
  return bodeSvg(list, { title: now.title, conditions: conditionPhrases(now, conditions.value, list) });
}

interface Export {
  readonly title: string;
  readonly ending: string;
  readonly type: string;
  /** Its text; undefined where there is nothing to give out. */
  readonly text: () => string | undefined;
}

const CSV = "text/csv";
const result = (): SuspectsResult | undefined => suspected().value?.result;
const ifAny = <Item, Text>(list: readonly Item[], text: (list: readonly Item[]) => Text) =>
  list.length === 0 ? undefined : text(list);

export const EXPORTS: readonly Export[] = [
  {
    title: "readings (CSV)",
    ending: "-readings.csv",
    type: CSV,
    text: () => ifAny(taken.value.readings, readingsCsv),
  },
  {
    title: "voltage chart (CSV)",
    ending: "-voltages.csv",
    type: CSV,
    text: () => voltagesCsv(wholeChart()?.charts ?? []),
  },
  {
    title: "worksheet with readings (.fods)",
    ending: ".fods",
    type: "application/vnd.oasis.opendocument.spreadsheet-flat-xml",
    text: () => {
      const whole = wholeChart();
      return whole && voltagesSpreadsheet(whole.circuit, whole.charts, { phrases: whole.phrases });
    },
  },
  {
    title: "response (CSV)",
    ending: "-response.csv",
    type: CSV,
    text: () => ifAny(responses.value, responseCsv),
  },
  {
    title: "response (SVG drawing)",
    ending: "-response.svg",
    type: "image/svg+xml",
    text: () => ifAny(responses.value, drawing),
  },
  {
    title: "suspects (CSV)",
    ending: "-suspects.csv",
    type: CSV,
    text: () => {
      const found = result();
      return found && suspectsCsv(found);
    },
  },
  {
    title: "netlist",
    ending: ".netlist",
    type: "text/plain",
    text: () => new Map(Object.entries(sheet.value.files)).get(sheet.value.main),
  },
];

/** Gives one out; a sentence if there is nothing in it yet. */
export function exportAs(title: string): string {
  const found = EXPORTS.find((each) => each.title === title);
  const text = found?.text();
  if (found === undefined || text === undefined) return `There is nothing to export as ${title} yet.`;
  download(fileName(sheet.value.main, found.ending), found.type, text);
  return "";
}
