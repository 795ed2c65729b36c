/** Tables of the device library. */
import type { TypeFigure, TypeSheet } from "../bench/types.ts";
import { harmless, layOut, rule, widthOf, wrap } from "./columns.ts";
import { quantityText } from "./quantities.ts";

/** `120 mV at 1 mA`. */
function valueText({ value, unit, at, at_unit }: TypeFigure): string {
  const condition = at === undefined || at_unit === undefined ? "" : ` at ${quantityText(at, at_unit)}`;
  return quantityText(value, unit) + condition;
}

/** The first row of a figure, as text; empty where the type has none. */
const cell = (sheet: TypeSheet, ...names: readonly string[]): string => {
  const found = sheet.figures.find(({ figure }) => names.includes(figure));
  return found === undefined ? "" : quantityText(found.value, found.unit);
};

const HEADINGS = ["type", "device", "hfe", "V_BE, V_F", "leakage", "f_T", "V max", "I max", "P max"];

function row(sheet: TypeSheet): readonly string[] {
  return [
    sheet.type,
    `${sheet.device} ${sheet.material}`,
    cell(sheet, "hfe"),
    cell(sheet, "vbe", "vf"),
    cell(sheet, "leakage"),
    cell(sheet, "ft"),
    cell(sheet, "limits.vce", "limits.vr"),
    cell(sheet, "limits.ic", "limits.if"),
    cell(sheet, "limits.ptot"),
  ];
}

/** One line a type: the figures that one compares first. On a narrow terminal the last columns go. */
export function typesTable(sheets: readonly TypeSheet[], { width }: { readonly width: number }): string {
  const rows = [HEADINGS, ...sheets.map(row)];
  for (let columns = HEADINGS.length; columns > 2; columns--) {
    const lines = laidOut(rows, columns);
    if (columns === 3 || lines.every((line) => widthOf(line) <= width)) return `${lines.join("\n")}\n`;
  }
  return "";
}

function laidOut(rows: readonly (readonly string[])[], columns: number): readonly string[] {
  const [head, ...body] = layOut(
    rows,
    HEADINGS.slice(0, columns).map((_, i) => ({ align: i < 2 ? "left" : "right" })),
  );
  return [head!, rule(widthOf(head!)), ...body].map((line) => line.trimEnd());
}

/** One type in full: every figure, given or not, and the parameters of the model. */
export function typeTable(sheet: TypeSheet, { width }: { readonly width: number }): string {
  const figures = sheet.figures.map((figure) => [
    figure.figure.replace("limits.", "limit "),
    valueText(figure),
    figure.origin,
    figure.meaning,
  ]);
  const parameters = Object.entries(sheet.parameters).map(([name, value]) => parameterRow(name, value));
  return [
    `${sheet.type}  ${sheet.device} ${sheet.material}`,
    ...(sheet.case === undefined ? [] : wrap(harmless(`case: ${sheet.case}`), width)),
    ...(sheet.leads === undefined ? [] : wrap(harmless(`leads: ${sheet.leads}`), width)),
    ...(sheet.source === undefined ? [] : wrap(harmless(`source: ${sheet.source}`), width)),
    "",
    ...table(figures),
    "",
    "Model parameters at 25 °C",
    ...table(parameters),
    "",
  ].join("\n");
}

const table = (rows: readonly (readonly string[])[]): readonly string[] =>
  layOut(rows, rows[0]?.map(() => ({ align: "left" })) ?? []).map((line) => `  ${line}`.trimEnd());

/** Units of the parameters by the ending of their names. */
const ENDINGS: readonly (readonly [ending: string, unit: string])[] = [
  ["_kelvin_per_watt", "kelvin-per-watt"],
  ["_amps", "ampere"],
  ["_volts", "volt"],
  ["_ohms", "ohm"],
  ["_seconds", "second"],
  ["_farads", "farad"],
  ["_kelvin", "kelvin"],
  ["_hertz", "hertz"],
];

/** `saturation_amps` 3.1e-8 as `saturation`, `31 nA`. */
function parameterRow(name: string, value: number): readonly string[] {
  const [ending, unit] = ENDINGS.find(([known]) => name.endsWith(known)) ?? ["", "number"];
  return [name.slice(0, name.length - ending.length).replaceAll("_", " "), quantityText(value, unit)];
}
