/** A value behind its place in a statement: unit, sign and plausible range. */
import type { Tolerance } from "../circuit/circuit.ts";
import type { Complaints } from "./complaints.ts";
import type { Cursor } from "./cursor.ts";
import { isUnitWord, looksLikeValue, type Measure, normalised, pieces, readMeasure } from "./measure.ts";
import type { Word } from "./scan.ts";
import { across, type Span } from "./span.ts";
import { type AnyUnit, PREFIXES, UNITS, writeValue } from "./units.ts";

/** What a place expects; a part's `Quantity` and a sheet's `Figure` both serve. */
export interface Expected {
  readonly unit: AnyUnit;
  readonly meaning: string;
  readonly zero?: true;
  readonly signed?: true;
  readonly plausible?: readonly [least: number, greatest: number];
}

/** Whose value is read, and how: with `joins`, a word before `to` is a connection point, never a unit. */
export interface Setting {
  readonly owner: string;
  readonly complaints: Complaints;
  readonly joins?: boolean;
}

export interface Found extends Span {
  readonly value: number;
  readonly tolerance?: Tolerance;
}

export interface Written extends Span {
  readonly text: string;
}

/** Whether `next` is the unit of the number in `word`, after one blank. */
function isItsUnit(word: Word, next: Word, unit: AnyUnit): boolean {
  const parts = pieces(normalised(word.text));
  if (parts === undefined || next.quoted) return false;
  if (parts.mark === "" && parts.suffix === "") return isUnitWord(next.text);
  const bare = parts.suffix === "" || PREFIXES.has(parts.suffix);
  return bare && UNITS[unit].symbols.has(normalised(next.text));
}

/** Takes a value's words: one, or a number and its unit. */
export function takeWritten(cursor: Cursor, unit: AnyUnit, joins: boolean): Written | undefined {
  const word = cursor.take();
  const next = cursor.peek();
  if (word === undefined || next === undefined) return word;
  const isPoint = joins && cursor.peek(1)?.text === "to";
  if (isPoint || !isItsUnit(word, next, unit)) return word;
  cursor.take();
  return { ...across(word, next), text: `${word.text} ${next.text}` };
}

/** Takes the value that must stand next; complains and gives nothing if it is none. */
export function takeQuantity(cursor: Cursor, expected: Expected, setting: Setting): Found | undefined {
  const next = cursor.peek();
  const { owner, complaints } = setting;
  if (next === undefined || next.quoted || !looksLikeValue(next.text)) {
    const found = next === undefined ? "nothing follows" : `"${next.text}" stands there`;
    const { noun, example } = UNITS[expected.unit];
    complaints.error(
      cursor.here,
      `${owner}: ${noun} (${expected.meaning}) is expected here, but ${found}`,
      `write it as ${example}`,
    );
    return undefined;
  }
  const written = takeWritten(cursor, expected.unit, setting.joins === true);
  return written && interpret(written, expected, setting);
}

/** The value of words already taken. */
export function interpret(written: Written, expected: Expected, setting: Setting): Found | undefined {
  const measure = readMeasure(written.text, expected.unit);
  if ("why" in measure) {
    setting.complaints.error(written, `${setting.owner}: "${written.text}" ${measure.why}`, measure.hint);
    return undefined;
  }
  if (!inRange(written, measure, expected, setting)) return undefined;
  const { value, tolerance } = measure;
  const { file, line, column, length } = written;
  return { value, ...(tolerance && { tolerance }), file, line, column, length };
}

/** Why a number cannot stand for a quantity, whatever the place. */
export function refusal(value: number, expected: Expected): { why: string; hint?: string } | undefined {
  const { unit, meaning, plausible } = expected;
  if (value < 0 && expected.signed === undefined) {
    const hint = unit === "volt" ? "write it without its sign, for PNP circuits too" : undefined;
    const least = expected.zero ? "cannot be negative" : "must be above zero";
    return { why: `is negative; the ${meaning} ${least}`, ...(hint !== undefined && { hint }) };
  }
  if (value === 0 && expected.zero === undefined && expected.signed === undefined) {
    return { why: `is zero; the ${meaning} must be above zero` };
  }
  if (unit === "percent" && plausible !== undefined && outside(value, plausible)) {
    const [least, greatest] = plausible.map((limit) => writeValue(limit, "percent"));
    return { why: `is outside ${least} to ${greatest} for the ${meaning}` };
  }
  return undefined;
}

const outside = (value: number, [least, greatest]: readonly [number, number]) =>
  value < least * (1 - 1e-9) || value > greatest * (1 + 1e-9);

function inRange(written: Written, measure: Measure, expected: Expected, setting: Setting): boolean {
  const { complaints, owner } = setting;
  const refused = refusal(measure.value, expected);
  if (refused !== undefined) {
    complaints.error(written, `${owner}: "${written.text}" ${refused.why}`, refused.hint);
    return false;
  }
  const { plausible, unit, meaning } = expected;
  const negligible = measure.value === 0 && expected.zero;
  if (plausible === undefined || negligible || !outside(measure.value, plausible)) return true;
  const [least, greatest] = plausible.map((limit) => writeValue(limit, unit, 3));
  complaints.warning(
    written,
    `${owner}: "${written.text}" is read as ${writeValue(measure.value, unit, 4)}; the ${meaning} is usually ${least} to ${greatest}`,
    probablyMeant(measure, plausible, unit),
  );
  return true;
}

/** The same number with the prefix that makes it plausible: the other case of the letter first, then the nearest. */
function probablyMeant(
  measure: Measure,
  plausible: readonly [number, number],
  unit: AnyUnit,
): string | undefined {
  if (unit === "kelvin-per-watt" && !outside(measure.value * 1000, plausible)) {
    return `did you mean ${writeValue(measure.value, "number", 4)} K/mW?`;
  }
  if (!UNITS[unit].prefixes) return undefined;
  const shift = (power: number) => measure.value * 10 ** (power - measure.power);
  const swapped = measure.power === -3 ? 6 : measure.power === 6 ? -3 : undefined;
  if (swapped !== undefined && !outside(shift(swapped), plausible)) {
    return `"m" is milli and "M" is mega: did you mean ${writeValue(shift(swapped), unit, 4)}?`;
  }
  const powers = [0, ...new Set(PREFIXES.values())]
    .filter((power) => power !== measure.power && !outside(shift(power), plausible))
    .sort((a, b) => Math.abs(a - measure.power) - Math.abs(b - measure.power));
  return powers[0] === undefined ? undefined : `did you mean ${writeValue(shift(powers[0]), unit, 4)}?`;
}
