/** A device type back to the text of its block. */
import type { DeviceType } from "../circuit/circuit.ts";
import {
  DIODE_FIGURES,
  DIODE_LIMITS,
  type Figure,
  TRANSISTOR_FIGURES,
  TRANSISTOR_LIMITS,
} from "../devices/sheet.ts";
import { writeValue } from "./units.ts";

/** Digits of a value in the block: ten times finer than anybody asks of it. */
const SIGNIFICANT = 9;

/**
 * The `type` block of a type, which reads back as the same figures to nine significant digits. A quotation
 * mark in the source is written as an apostrophe.
 */
export function writeType(type: DeviceType): string {
  const diode = type.device === "diode";
  const { figures } = type;
  const lines = [
    ...(diode ? DIODE_FIGURES : TRANSISTOR_FIGURES).flatMap((figure) => figureLines(figure, figures)),
    ...limitLine(diode ? DIODE_LIMITS : TRANSISTOR_LIMITS, figures),
    ...quoted("case", type.case),
    ...quoted("leads", type.leads),
    ...quoted("source", type.source),
  ];
  const body = lines.map(([word = "", value]) => `    ${word.padEnd(8)} ${value}\n`);
  return `type  ${type.name}  ${type.device} ${type.material}\n${body.join("")}`;
}

const quoted = (word: string, text: string | undefined) =>
  text === undefined ? [] : [[word, `"${oneLine(text)}"`]];

const oneLine = (text: string) => text.replaceAll('"', "’").replace(/\s+/g, " ");

const amount = (value: number, unit: Figure["unit"]) => writeValue(value, unit, SIGNIFICANT);

function figureLines(figure: Figure, figures: DeviceType["figures"]): string[][] {
  const { key } = figure;
  const lines: string[][] = [];
  if (figures[key] !== undefined) {
    const second = figures[`${key}2`] === undefined ? [] : [point(figure, `${key}2`, figures)];
    lines.push([key, [point(figure, key, figures), ...second].join(", ")]);
  }
  const { "spread.least": least, "spread.greatest": greatest } = figures;
  if (key === "hfe" && least !== undefined && greatest !== undefined) {
    lines.push(["spread", `${amount(least, "number")} .. ${amount(greatest, "number")}`]);
  }
  return lines;
}

/** `70 at 1 mA`, with whatever tails it has. */
function point(figure: Figure, key: string, figures: DeviceType["figures"]): string {
  const tails = (figure.tails ?? []).flatMap((tail) => {
    const value = figures[`${key}.${tail.key}`];
    return value === undefined ? [] : [`${tail.word} ${amount(value, tail.unit)}`];
  });
  return [amount(figures[key]!, figure.unit), ...tails].join(" ");
}

function limitLine(limits: readonly Figure[], figures: DeviceType["figures"]): string[][] {
  const given = limits.flatMap(({ key, unit }) => {
    const value = figures[`limits.${key}`];
    return value === undefined ? [] : [`${key} ${amount(value, unit)}`];
  });
  return given.length === 0 ? [] : [["limits", given.join(" ")]];
}
