/** Suspects on a terminal: readings, who explains them, what to check, where to measure next. */
import type { NamedFault, Suspect, SuspectsResult } from "../bench/suspects/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, unbound, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { readingLines } from "./suspects-readings.ts";
import { bitsText, faultText, percentText } from "./suspects-words.ts";
import type { TableOptions } from "./voltage-table.ts";

const LEFT: Column = { align: "left" };
const RIGHT: Column = { align: "right" };
/** Suspects whose predictions stand beside the readings, and those whose check is spelled out. */
const IN_FULL = 3;
/** What is less likely shares a line with its like. */
const WORTH_A_LINE = 0.01;
const MOST_NAMED = 8;
/** Bits; a coin thrown tells one. */
const WORTH_PROBING = 0.1;

const isLikely = ({ probability }: NamedFault) => probability >= WORTH_A_LINE;

/** Names with a comma between, no more than a few. */
function listed(faults: readonly NamedFault[]): string {
  const untold = faults.length - MOST_NAMED;
  return `${faults.slice(0, MOST_NAMED).map(faultText).join(", ")}${untold > 0 ? ` and ${untold} more` : ""}`;
}

/** The faults of a group, each with its share. */
function memberLines({ alike, parted_by }: Suspect, width: number): readonly string[] {
  const shown = alike.filter((each, k) => k === 0 || (isLikely(each) && k < MOST_NAMED));
  const rest = alike.slice(shown.length);
  const rows = shown.map((each) => [percentText(each.probability), harmless(faultText(each))]);
  const apart =
    parted_by === undefined ? "" : ` ${harmless(`${parted_by.mode}: ${parted_by.point}`)} would part them.`;
  return [
    ...layOut(rows, [RIGHT, LEFT]).map((line) => unbound(line.trimEnd())),
    ...(rest.length > 0 ? wrap(`Less likely: ${harmless(listed(rest))}.`, width) : []),
    ...wrap(`No reading taken tells these apart.${apart}`, width),
  ];
}

function suspectLines(suspect: Suspect, number: number, width: number, ink: Ink): readonly string[] {
  const { alike, check, probability } = suspect;
  const name = alike.length > 1 ? `one of ${alike.length}` : faultText(suspect);
  const body = [
    ...(alike.length > 1 ? memberLines(suspect, width - 4) : []),
    ...(number <= IN_FULL ? wrap(harmless(`Check: ${check}.`), width - 4) : []),
  ];
  const head = wrap(harmless(`${number}. ${percentText(probability)}  ${name}`), width, 4);
  return [
    ...head.map((line, k) => (k === 0 ? ink.strong(line) : line)),
    ...body.map((line) => `    ${line}`),
  ];
}

/** The suspects, the likely ones one by one. */
function suspectBlocks(suspects: readonly Suspect[], width: number, ink: Ink): readonly string[] {
  const shown = suspects.filter((each, k) => k === 0 || isLikely(each));
  const rest = suspects.slice(shown.length).flatMap(({ alike }) => alike);
  return [
    ...shown.flatMap((suspect, k) => ["", ...suspectLines(suspect, k + 1, width, ink)]),
    ...(rest.length === 0
      ? []
      : ["", ...wrap(harmless(`Hardly: ${listed(rest)}; less than 1\u00a0% each.`), width)]),
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
    return "Nothing explains the readings: no single fault on the list, nor none. Two things may be wrong (--pairs), a reading may be of another point, or the circuit is not as drawn. What comes nearest:";
  const likely = no_fault_probability > (first?.probability ?? 0);
  const none = `No fault ${percentText(no_fault_probability)}; a fault that none of these readings shows ${percentText(unseen_probability)}.`;
  return likely && quiet > 0.5
    ? `${none} ${outside === 0 ? "All readings lie where healthy specimens have them." : ""}`.trim()
    : none;
}

function pairLines({ pairs }: SuspectsResult, width: number, ink: Ink): readonly string[] {
  if (pairs === undefined) return [];
  const likely = pairs.filter(({ probability }) => probability >= WORTH_A_LINE);
  const texts = likely.map(
    ({ faults, probability }) => `${percentText(probability)}  ${faults.map(faultText).join("  and  ")}`,
  );
  const none = "No two faults together are as likely as 1\u00a0%.";
  return [
    "",
    ink.strong("Two at once"),
    ...(texts.length > 0 ? texts : [none]).flatMap((text) => wrap(harmless(text), width, 4)),
  ];
}

function cautionLines(best: readonly Suspect[], width: number): readonly string[] {
  const cautions = [...new Set(best.flatMap((each) => each.cautions))];
  return cautions.length === 0 ? [] : ["", ...wrap(`Caution: ${cautions.join("; ")}.`, width)];
}

function nextLines({ next }: SuspectsResult, ink: Ink): readonly string[] {
  if (!next.some(({ bits }) => bits >= WORTH_PROBING))
    return ["", "Measure next: no further voltage would tell much; check the suspects as said above."];
  const rows = next.map(({ mode, point, bits }) => [harmless(mode), harmless(point), bitsText(bits)]);
  const laid = layOut(rows, [LEFT, LEFT, RIGHT]).map((line) => unbound(line.trimEnd()));
  return ["", `${ink.strong("Measure next")}, and what it is expected to tell`, ...laid];
}

/** Readings beside what the best suspects make of them; the suspects; the cautions that apply; the next probes last. */
export function suspectsTable(
  circuit: Circuit,
  result: SuspectsResult,
  conditions: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const { width } = options;
  const best = result.suspects.slice(0, IN_FULL).filter((each, k) => k === 0 || isLikely(each));
  const lines = [
    ...wrap(harmless(circuit.title), width).map(ink.strong),
    ...wrap(harmless(conditions.join(" · ")), width),
    "",
    ...readingLines(circuit, result, best, width, ink),
    "",
    ...wrap(verdict(result), width, 0),
    ...suspectBlocks(result.suspects, width, ink),
    ...pairLines(result, width, ink),
    ...cautionLines(best, width),
    ...nextLines(result, ink),
  ];
  return `${lines.join("\n").trimEnd()}\n`;
}
