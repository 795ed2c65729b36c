/**
 * Comma-separated values (RFC 4180, lines ended by a line feed): a decimal point, an ASCII minus, full
 * precision, keys with their unit.
 */
import type { PathResponse, TransistorReading, VoltageChart } from "../bench/results.ts";
import type { TypeSheet } from "../bench/types.ts";
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { frequenciesOf, pathLabels } from "./labels.ts";
import { finiteDecibels } from "./numbers.ts";

export type Field = string | number | boolean | undefined;

function field(value: Field): string {
  if (value === undefined || (typeof value === "number" && !Number.isFinite(value))) return "";
  const text = String(value);
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

export const lines = (rows: readonly (readonly Field[])[]): string =>
  rows.map((row) => `${row.map(field).join(",")}\n`).join("");

const keysOf = (records: readonly Readonly<Record<string, unknown>>[]): readonly string[] => [
  ...new Set(records.flatMap((record) => Object.keys(record))),
];

/** Rows of one section: a name, a quantity, and what each mode has there. */
function section<Entry extends object>(
  charts: readonly VoltageChart[],
  pick: (chart: VoltageChart) => Readonly<Record<string, Entry>>,
  quantities: readonly (keyof Entry & string)[],
): Field[][] {
  return keysOf(charts.map(pick)).flatMap((name) =>
    quantities
      .map((quantity) => [name, quantity, ...charts.map((chart) => pick(chart)[name]?.[quantity] as Field)])
      .filter((row) => row.slice(2).some((value) => value !== undefined)),
  );
}

const TRANSISTOR: readonly (keyof TransistorReading)[] = [
  "type",
  "e_volts",
  "b_volts",
  "c_volts",
  "ie_amps",
  "ib_amps",
  "ic_amps",
  "vbe_volts",
  "vce_volts",
  "gm_siemens",
  "junction_celsius",
  "dissipation_watts",
  "region",
];

/** A row a quantity of a net, transistor or part, a column a mode. */
export function voltagesCsv(charts: readonly VoltageChart[]): string {
  return lines([
    ["name", "quantity", ...charts.map((chart) => chart.mode)],
    ...section(charts, (chart) => chart.nets, ["volts", "reading_volts", "floating"]),
    ...section(charts, (chart) => chart.transistors, TRANSISTOR),
    ...section(charts, (chart) => chart.parts, ["volts", "amps", "watts"]),
    ...section(charts, ({ motors = {} }) => motors, ["rpm", "torque_newton_metres", "stalled"]),
    ...section(charts, ({ governors = {} }) => governors, ["state", "held", "closed_rpm", "open_rpm"]),
  ]);
}

/** A row a frequency, two columns a path: gain in dB and phase in degrees. */
export function responseCsv(responses: readonly PathResponse[]): string {
  const labels = pathLabels(responses);
  const rows = frequenciesOf(responses).map((hertz) => [
    hertz,
    ...responses.flatMap((response) => {
      const i = response.hertz.indexOf(hertz);
      const gain = response.gain_db[i];
      return [gain === undefined ? undefined : finiteDecibels(gain), response.phase_degrees[i]];
    }),
  ]);
  return lines([
    ["hertz", ...labels.flatMap((label) => [`${label} gain_db`, `${label} phase_degrees`])],
    ...rows,
  ]);
}

const TYPE_KEYS = [
  "type",
  "device",
  "material",
  "figure",
  "value",
  "unit",
  "at",
  "at_unit",
  "origin",
] as const;

/** A row a figure of a device type, SI units. */
export function typesCsv(sheets: readonly TypeSheet[]): string {
  const rows = sheets.flatMap((sheet) =>
    sheet.figures.map((figure) => {
      const record: Readonly<Record<string, Field | readonly unknown[] | object>> = { ...sheet, ...figure };
      return TYPE_KEYS.map((key) => record[key] as Field);
    }),
  );
  return lines([TYPE_KEYS, ...rows]);
}

/** A row an error or warning, with its place. */
export function diagnosticsCsv(diagnostics: readonly Omit<Diagnostic, "length">[]): string {
  return lines([
    ["severity", "message", "hint", "file", "line", "column"],
    ...diagnostics.map(({ severity, message, hint, file, line, column }) => [
      severity,
      message,
      hint,
      file,
      line,
      column,
    ]),
  ]);
}
