/** Suspects in sentences. */
import type { JudgedReading, NamedFault, Suspect, SuspectsResult } from "../../bench/suspects/results.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { faultText, percentText, readingText } from "../../report/suspects-words.ts";
import { SIGNS } from "../state/marks.ts";
import { pointWords } from "../words.ts";

/** Members of a group that are named. */
const MOST_NAMED = 8;

const listOf = (names: readonly string[]): string =>
  names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;

/** What the readings say as a whole; `leftOut` of those that were typed do not count. */
export function verdictText(result: SuspectsResult, leftOut = 0): string {
  const { explained, no_fault_probability: none, unseen_probability: unseen, readings, suspects } = result;
  if (!explained) {
    return "Nothing explains the readings: no single fault on the list, nor none. Two things may be wrong, a reading may be of another point, or the circuit is not as drawn.";
  }
  const shares = `No fault: ${percentText(none)}; a fault that none of these readings shows: ${percentText(unseen)}.`;
  const quiet = none > (suspects[0]?.probability ?? 0) && none + unseen > 0.5;
  if (!quiet || readings.some(({ outside }) => outside)) return shares;
  const which = leftOut === 0 ? "All readings" : "All readings that can be";
  return `${which} lie where healthy specimens have them. ${shares}`;
}

/** Others of the group, which no reading tells from the first; empty if it stands alone. */
export function groupText({ alike, parted_by: parting }: Suspect): string {
  const others = alike.slice(1, MOST_NAMED).map((each) => faultShare(each));
  if (others.length === 0) return "";
  const more = alike.length > MOST_NAMED ? ` and ${alike.length - MOST_NAMED} more` : "";
  const apart = parting && `; ${pointWords(parting.point)}, in ${parting.mode}, would part them`;
  return `No reading taken tells it from ${others.join(", ")}${more}${apart ?? ""}.`;
}

const faultShare = (fault: NamedFault): string => `${faultText(fault)} (${percentText(fault.probability)})`;

/** Where a part is found: what it is, between which points, and its line in the netlist; empty for one put in. */
export function placeText(part: string, { parts, nets }: Circuit): string {
  const found = parts.find(({ name }) => name === part);
  if (found === undefined) return "";
  const ends = [...new Set(found.pins.map(({ net }) => nets[net]?.name ?? ""))].map((name) =>
    pointWords(name),
  );
  const between = ends.length > 3 ? `${ends.slice(0, 3).join(", ")} …` : listOf(ends);
  const where = `${ends.length > 1 ? "between" : "at"} ${between}`;
  return `${part} is the ${found.kind} ${where}; line ${found.place.line} of ${found.place.file}.`;
}

/** `play: T1 collector`. */
export const readingName = ({ mode, point }: { readonly mode: string; readonly point: string }): string =>
  `${mode}: ${pointWords(point)}`;

/**
 * As it stands on the sheet: a current as large as it is in a healthy set, without the sign of its direction, so
 * that more is ▲ here as in the chart; one that flows the other way is negative. All else as it is.
 */
export function asShown({ unit, least, greatest }: JudgedReading, value: number): number {
  return unit === "A" && least + greatest < 0 ? 0 - value : value;
}

export function rangeText(reading: JudgedReading): string {
  const ends = [reading.least, reading.greatest].map((end) => asShown(reading, end));
  return [Math.min(...ends), Math.max(...ends)].map((end) => readingText(end, reading.unit)).join(" … ");
}

/** What was taken, with the sign that marks it where no healthy specimen has it. */
export function takenText(reading: JudgedReading): string {
  const { unit, taken, outside, least, greatest } = reading;
  const shown = asShown(reading, taken);
  const above = shown > Math.max(asShown(reading, least), asShown(reading, greatest));
  return `${readingText(shown, unit)}${outside ? ` ${SIGNS[above ? "above" : "below"]}` : ""}`;
}

/** What a screen reader hears when the order changes. */
export function spokenText({ suspects, no_fault_probability: none }: SuspectsResult): string {
  const [first] = suspects;
  if (first === undefined || none > first.probability) return `No fault: ${percentText(none)}`;
  return `First suspect: ${faultShare(first)}`;
}
