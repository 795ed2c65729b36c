/** Suspects on a terminal: readings, who explains them, what to check, where to measure next. */
import type { Suspect, SuspectsResult } from "../bench/suspects/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, unbound, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { bitsText, faultText, percentText, readingText } from "./suspects-words.ts";
import type { TableOptions } from "./voltage-table.ts";

const LEFT: Column = { align: "left" };
const RIGHT: Column = { align: "right" };
/** Suspects whose predictions stand beside the readings, and those whose check is spelled out. */
const IN_FULL = 3;
/** Members of a group that are named. */
const MOST_NAMED = 8;

function readingLines({ readings, suspects }: SuspectsResult, ink: Ink): readonly string[] {
  const best = suspects.slice(0, IN_FULL);
  const head = ["", "", "taken", "healthy", "", ...best.map((_, k) => `suspect ${k + 1}`)];
  const rows = readings.map(({ mode, point, unit, taken, least, greatest, outside }, n) => [
    harmless(mode),
    harmless(point),
    readingText(taken, unit),
    `${readingText(least, unit)} … ${readingText(greatest, unit)}`,
    outside ? "outside" : "",
    ...best.map(({ predicted, slip }) => `${readingText(predicted[n]!, unit)}${slip === n ? " ?" : ""}`),
  ]);
  const [first = "", ...rest] = layOut(
    [head, ...rows],
    [LEFT, LEFT, RIGHT, RIGHT, LEFT, ...best.map(() => RIGHT)],
  );
  return [
    ink.faint(first.trimEnd()),
    ...rest.map((line, n) => (readings[n]!.outside ? ink.accent(line.trimEnd()) : line.trimEnd())),
  ].map(unbound);
}

const more = (members: number) => (members > MOST_NAMED ? ` and ${members - MOST_NAMED} more` : "");

function suspectLines(suspect: Suspect, number: number, width: number, ink: Ink): readonly string[] {
  const { alike, parted_by, check, probability } = suspect;
  const head = `${number}. ${percentText(probability)}  ${faultText(suspect)}`;
  const others = alike
    .slice(1, MOST_NAMED)
    .map((each) => `${faultText(each)} (${percentText(each.probability)})`);
  const apart = parted_by === undefined ? "" : `; ${parted_by.mode}: ${parted_by.point} would part them`;
  const phrases = [
    ...(others.length > 0
      ? [`No reading taken tells it from ${others.join(", ")}${more(alike.length)}${apart}.`]
      : []),
    ...(number <= IN_FULL ? [`Check: ${check}.`] : []),
  ];
  return [
    ...wrap(harmless(head), width, 4).map((line, k) => (k === 0 ? ink.strong(line) : line)),
    ...phrases.flatMap((text) => wrap(harmless(text), width - 4).map((line) => `    ${line}`)),
  ];
}

function verdict({
  explained,
  no_fault_probability,
  unseen_probability,
  readings,
  suspects,
}: SuspectsResult): string {
  const outside = readings.filter((each) => each.outside).length;
  const [first] = suspects;
  const quiet = no_fault_probability + unseen_probability;
  if (!explained)
    return "Nothing explains the readings: no single fault on the list, nor none. Two things may be wrong (--pairs), a reading may be of another point, or the circuit is not as drawn.";
  const likely = no_fault_probability > (first?.probability ?? 0);
  const none = `No fault ${percentText(no_fault_probability)}; a fault that none of these readings shows ${percentText(unseen_probability)}.`;
  return likely && quiet > 0.5
    ? `${none} ${outside === 0 ? "All readings lie where healthy specimens have them." : ""}`.trim()
    : none;
}

function pairLines({ pairs = [] }: SuspectsResult, width: number, ink: Ink): readonly string[] {
  if (pairs.length === 0) return [];
  const texts = pairs.map(
    ({ faults, probability }) => `${percentText(probability)}  ${faults.map(faultText).join("  and  ")}`,
  );
  return ["", ink.strong("Two at once"), ...texts.flatMap((text) => wrap(harmless(text), width, 4))];
}

function nextLines({ next }: SuspectsResult, ink: Ink): readonly string[] {
  if (next.length === 0)
    return ["", "No further voltage would tell the suspects apart: check them as said above."];
  const rows = next.map(({ mode, point, bits }) => [harmless(mode), harmless(point), bitsText(bits)]);
  const laid = layOut(rows, [LEFT, LEFT, RIGHT]).map((line) => unbound(line.trimEnd()));
  return ["", ink.strong("Measure next"), ...laid];
}

/** Readings beside what the best suspects make of them; the suspects; the next probes; the cautions that apply. */
export function suspectsTable(
  circuit: Circuit,
  result: SuspectsResult,
  conditions: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const { width } = options;
  const cautions = [...new Set(result.suspects.slice(0, IN_FULL).flatMap((each) => each.cautions))];
  const lines = [
    ...wrap(harmless(circuit.title), width).map(ink.strong),
    ...wrap(harmless(conditions.join(" · ")), width),
    "",
    ...readingLines(result, ink),
    "",
    ...wrap(verdict(result), width, 0),
    ...result.suspects.flatMap((suspect, k) => ["", ...suspectLines(suspect, k + 1, width, ink)]),
    ...pairLines(result, width, ink),
    ...nextLines(result, ink),
    ...(cautions.length === 0 ? [] : ["", ...wrap(`Caution: ${cautions.join("; ")}.`, width)]),
  ];
  return `${lines.join("\n").trimEnd()}\n`;
}
