/** One value as text to a number in SI units: IEC 60062 letter codes, SI prefixes, units. */
import type { Tolerance } from "../circuit/circuit.ts";
import { codedTolerance } from "./letters.ts";
import { isOldUnit, oldMarking, oldUnit, slashed } from "./old-markings.ts";
import { type AnyUnit, PREFIXES, UNITS } from "./units.ts";

export interface Measure {
  readonly value: number;
  /** From an IEC 60062 letter behind the value. */
  readonly tolerance?: Tolerance;
  /** A unit was written, not only a number or a prefix. */
  readonly unit: boolean;
  /** The power of ten of the prefix written. */
  readonly power: number;
}

/** Why a text is no value of the unit expected: the rest of a sentence that begins with the text. */
export interface Refusal {
  readonly why: string;
  readonly hint?: string;
}

/** A value cut into its pieces: `4k7J` is 4.7, mark `k`, suffix `J`. */
export interface Pieces {
  /** As `Number` reads it. */
  readonly number: string;
  /** The letter that stands for the decimal point. */
  readonly mark: string;
  readonly suffix: string;
}

const LIKE_VALUE = /^[+-]?(\d|[.,]\d|[RΩpnµumkKMG]\d+[A-Za-z]?$)/;
const NUMBER = /^[+-]?(\d+([.,]\d+)?|[.,]\d+)(e[+-]?\d+)?/;
const MARKED = /^([+-]?\d*)([A-Za-zµΩ])(\d+)/;

/** Letters that may stand for the decimal point: prefixes and units. */
const MARKS: ReadonlySet<string> = new Set([
  ...PREFIXES.keys(),
  ...Object.values(UNITS).flatMap(({ symbols }) =>
    [...symbols.keys()].filter((symbol) => symbol.length === 1),
  ),
]);

/** The same text with one sign each for micro, ohm, minus and degree. */
export function normalised(text: string): string {
  let plain = true;
  for (let k = 0; k < text.length; k++) if (text.charCodeAt(k) > 0x7f) plain = false;
  if (plain) return text;
  return text
    .replaceAll("\u03bc", "µ")
    .replaceAll("\u2126", "Ω")
    .replaceAll("\u2212", "-")
    .replaceAll("\u2103", "°C")
    .replaceAll("\u00ba", "°");
}

/** Whether a word looks like a value at all: `4k7`, `-3.2`, `R47`. */
export const looksLikeValue = (text: string): boolean =>
  isDigit(text.charCodeAt(0)) || LIKE_VALUE.test(normalised(text));

const isDigit = (code: number) => code >= 0x30 && code <= 0x39;

/** Whether a word begins like a number, so that it cannot be a keyword. */
export const beginsWithDigit = (text: string): boolean => /^[+-]?[.,]?\d/.test(normalised(text));

export function pieces(text: string): Pieces | undefined {
  const marked = MARKED.exec(text);
  if (marked !== null) {
    const [whole, before = "", mark = "", digits = ""] = marked;
    if (MARKS.has(mark))
      return { number: `${before || "0"}.${digits}`, mark, suffix: text.slice(whole.length) };
  }
  const plain = NUMBER.exec(text);
  if (plain === null) return undefined;
  return { number: plain[0].replace(",", "."), mark: "", suffix: text.slice(plain[0].length) };
}

/** `number` times ten to `power`, rounded once. */
function scaled(number: string, power: number): number {
  const [mantissa = "", exponent = "0"] = number.split("e");
  return Number(`${mantissa}e${Number(exponent) + power}`);
}

interface Meaning {
  readonly power: number;
  readonly unit: boolean;
}

/** What a suffix means where `unit` is expected: a unit with or without prefix, a prefix alone, or nothing. */
function meaningOf(suffix: string, unit: AnyUnit): Meaning | undefined {
  if (suffix === "") return { power: 0, unit: false };
  const { symbols, prefixes } = UNITS[unit];
  const exact = symbols.get(suffix);
  if (exact !== undefined) return { power: exact, unit: true };
  if (!prefixes) return undefined;
  const alone = PREFIXES.get(suffix);
  if (alone !== undefined) return { power: alone, unit: false };
  const prefix = PREFIXES.get(suffix[0] ?? "");
  const own = symbols.get(suffix.slice(1));
  return prefix !== undefined && own !== undefined ? { power: prefix + own, unit: true } : undefined;
}

/** Whether a word standing alone can be the unit of the number before it, in any unit there is. */
export function isUnitWord(text: string): boolean {
  const plain = normalised(text);
  return PREFIXES.has(plain) || unitOf(plain) !== undefined || isOldUnit(plain) || isCaseTwin(plain);
}

/** The unit that a suffix names, whatever is expected. */
function unitOf(suffix: string): AnyUnit | undefined {
  if (suffix === "") return undefined;
  for (const unit of ALL_UNITS) if (meaningOf(suffix, unit)?.unit) return unit;
  return undefined;
}

const ALL_UNITS = Object.keys(UNITS) as readonly AnyUnit[];

/** A way of writing `unit` that differs from `suffix` in capitals only: `hz`, `kHZ`, `ua`. */
function caseTwin(suffix: string, unit: AnyUnit): string | undefined {
  const { symbols, prefixes } = UNITS[unit];
  for (const symbol of symbols.keys()) {
    const head = suffix.slice(0, suffix.length - symbol.length);
    const tail = suffix.slice(head.length);
    if (tail.toLowerCase() !== symbol.toLowerCase() || tail === symbol) continue;
    if (head === "" || (prefixes && PREFIXES.has(head))) return head.replace("K", "k") + symbol;
  }
  return undefined;
}

const isCaseTwin = (suffix: string) => ALL_UNITS.some((unit) => caseTwin(suffix, unit) !== undefined);

function codedMeaning({ number, mark, suffix }: Pieces, unit: AnyUnit): Measure | undefined {
  const power = mark === "" ? undefined : meaningOf(mark, unit);
  if (mark !== "" && (power === undefined || !UNITS[unit].prefixes)) return undefined;
  if (power === undefined) {
    const meaning = meaningOf(suffix, unit);
    return meaning && { value: scaled(number, meaning.power), ...meaning };
  }
  if (suffix !== "" && !UNITS[unit].symbols.has(suffix)) return undefined;
  return {
    value: scaled(number, power.power),
    power: power.power,
    unit: power.unit || suffix !== "",
  };
}

/** A coded value with its tolerance letter: `4k7J`, `100nM`. */
function withLetter(parts: Pieces, unit: AnyUnit): Measure | undefined {
  const letter = parts.suffix.at(-1);
  if (letter === undefined || (parts.mark === "" && parts.suffix.length < 2)) return undefined;
  const value = codedMeaning({ ...parts, suffix: parts.suffix.slice(0, -1) }, unit);
  if (value === undefined || parts.suffix.length > 2) return undefined;
  const tolerance = codedTolerance(letter, unit, value.value);
  if (tolerance === undefined || isOtherUnit(parts, value, unit)) return undefined;
  return { ...value, tolerance };
}

/** `100nF` and `4m7H` on a resistor have another unit: they are no parts of an ohm with a tolerance letter. */
function isOtherUnit(parts: Pieces, { power }: Measure, unit: AnyUnit): boolean {
  if (unit === "ohm") return power < 0;
  return parts.mark === "" && unitOf(parts.suffix) !== undefined;
}

function readPieces(text: string, unit: AnyUnit): Measure | Refusal {
  // a blank may stand before the unit, and a tolerance letter only behind the value itself
  const attached = text.replace(/ +(?=[^\d.,+-])/, "");
  const detached = attached !== text;
  const parts = pieces(attached);
  if (parts === undefined || !Number.isFinite(Number(parts.number))) return unreadable(text, unit);
  const old = oldMarking(parts, unit);
  if (old !== undefined) return old;
  const plain = codedMeaning(parts, unit);
  if (plain !== undefined) return missingUnit(plain, parts, unit) ?? plain;
  const lettered = detached ? undefined : withLetter(parts, unit);
  return lettered ?? otherUnit(parts, unit) ?? unreadable(text, unit);
}

/** A temperature may be given in kelvins; a percentage needs its sign. */
function missingUnit(measure: Measure, parts: Pieces, unit: AnyUnit): Refusal | undefined {
  if (unit !== "percent" || measure.unit) return undefined;
  const share = measure.value > 0 && measure.value < 1 ? measure.value * 100 : measure.value;
  return {
    why: "lacks its percent sign",
    hint: `write ${Number(share.toPrecision(12))}%${share === measure.value ? "" : ` or ${parts.number}%`}`,
  };
}

function otherUnit(parts: Pieces, unit: AnyUnit): Refusal | undefined {
  const suffix = parts.mark !== "" && parts.suffix === "" ? parts.mark : parts.suffix;
  const other = unitOf(suffix);
  if (other === undefined) return oldUnit(parts, unit) ?? differentCase(parts, suffix, unit);
  if (other === unit) return undefined;
  return {
    why: `is ${UNITS[other].noun}, but ${UNITS[unit].noun} is expected here`,
    hint: letterMeant(parts, unit) ?? unitMeant(parts, suffix, unit),
  };
}

/** `47nS` on a capacitor: the tolerance letter S makes a unit of the prefix before it. */
function letterMeant({ number, mark, suffix }: Pieces, unit: AnyUnit): string | undefined {
  const letter = suffix.at(-1);
  if (mark !== "" || suffix.length !== 2 || letter === undefined) return undefined;
  const value = codedMeaning({ number, mark, suffix: suffix.slice(0, -1) }, unit);
  if (value === undefined || (unit === "ohm" && value.power < 0)) return undefined;
  const tolerance = codedTolerance(letter, unit, value.value);
  if (tolerance === undefined) return undefined;
  const [low, high] = [-tolerance.low, tolerance.high].map((share) => Number((share * 100).toPrecision(3)));
  const percent = low === high ? `±${low}%` : `-${low}% +${high}%`;
  return `write ${number}${suffix.slice(0, -1)} ${percent} if "${letter}" is the tolerance`;
}

/** The same number in the unit expected, where only its capitals are wrong; otherwise an example. */
function unitMeant({ number, mark }: Pieces, suffix: string, unit: AnyUnit): string {
  const twin = mark === "" ? caseTwin(suffix, unit) : undefined;
  return twin === undefined ? `write it as ${UNITS[unit].example}` : `did you mean "${number} ${twin}"?`;
}

function differentCase(parts: Pieces, suffix: string, unit: AnyUnit): Refusal | undefined {
  if (parts.mark !== "" || !isCaseTwin(suffix)) return undefined;
  return { why: `has the unit "${suffix}", which is not one`, hint: unitMeant(parts, suffix, unit) };
}

function unreadable(text: string, unit: AnyUnit): Refusal {
  if (text.includes("\ufffd")) {
    return {
      why: "holds a character that was lost",
      hint: "save the file as UTF-8, or write u for µ and ohm for Ω",
    };
  }
  const { noun, example } = UNITS[unit];
  const hint = slashed(text, unit);
  if (hint !== undefined) return { why: `cannot be read as ${noun}`, hint };
  return { why: `cannot be read as ${noun}`, hint: `write it as ${example}` };
}

/**
 * Reads `text` (`4k7`, `100 µF`, `25 °C`) where a value in `unit` is expected. Percentages come out as
 * fractions, temperatures in °C.
 */
export function readMeasure(text: string, unit: AnyUnit): Measure | Refusal {
  const plain = normalised(text);
  if (unit === "celsius" && /\d *K$/.test(plain)) {
    const kelvin = readMeasure(plain, "kelvin");
    return "why" in kelvin ? kelvin : { ...kelvin, value: kelvin.value - 273.15 };
  }
  const found = readPieces(plain, unit);
  return "why" in found || Number.isFinite(found.value) ? found : unreadable(text, unit);
}
