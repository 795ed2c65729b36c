/** Markings of old parts that can be read in two ways: refused, with both readings named. */
import type { Pieces, Refusal } from "./measure.ts";
import type { AnyUnit } from "./units.ts";

/** A capacitor's marking that an old part and this language read differently. */
export function oldMarking(parts: Pieces, unit: AnyUnit): Refusal | undefined {
  if (/^E\d/.test(parts.suffix)) return decimalE(parts);
  if (unit !== "farad") return undefined;
  const { number, mark, suffix } = parts;
  if (mark === "" && suffix === "") return bareNumber(number);
  if (/^M[Ff]$/.test(suffix)) return megafarad(number);
  if (mark !== "" && suffix !== "" && suffix !== "F") return undefined;
  const letter = mark || suffix;
  if (letter === "K" || letter === "M") return letterOrTolerance(number, letter, mark !== "");
  if (/^[kKMG]F?$/.test(letter)) return tooGreat(number, letter);
  return undefined;
}

const written = (number: string) => number.replace(/^(-?)0+(?=\d)/, "$1");

function decimalE({ number, suffix }: Pieces): Refusal {
  const digits = suffix.replace(/^E/, "");
  return {
    why: `could mean ${number}.${digits} Ω, as on some service sheets, or ${number} followed by ${digits} zeros`,
    hint: `write ${number}R${digits} for the first`,
  };
}

function bareNumber(number: string): Refusal {
  const n = written(number);
  return {
    why: `is a number alone, which on old parts means ${n} pF or ${n} µF`,
    hint: `write ${n}p or ${n}µ`,
  };
}

function megafarad(number: string): Refusal {
  const n = written(number);
  return {
    why: `means ${n} µF on old parts, but reads as ${n} megafarads: "M" is mega here, always`,
    hint: `write ${n} µF, or ${n}p if the part is in picofarads`,
  };
}

function letterOrTolerance(number: string, letter: string, coded: boolean): Refusal {
  const n = written(number);
  const [thousands, percent, unit] = letter === "K" ? ["n", 10, "nF"] : ["µ", 20, "µF"];
  if (coded) {
    return {
      why: `has "${letter}" for the decimal point, which no capacitor is large enough for; it may stand for ${n} ${unit}`,
      hint: `write ${n}${thousands}`,
    };
  }
  return {
    why: `can be ${n} ${unit} or ${n} pF ±${percent} %`,
    hint: `write ${n}${thousands}, or ${n}p ±${percent}%`,
  };
}

function tooGreat(number: string, letter: string): Refusal {
  const n = written(number);
  const prefix = letter[0] === "k" || letter[0] === "K" ? "kilo" : letter[0] === "M" ? "mega" : "giga";
  const hint = prefix === "kilo" ? `write ${n}n for ${n} thousand picofarads` : `write ${n}µ or ${n}p`;
  return {
    why:
      prefix === "kilo"
        ? `reads as ${n} kilofarads; on old parts it means ${n} thousand picofarads, ${n} nF, or ${n} pF with a tolerance of 10 %`
        : `reads as ${n} ${prefix}farads`,
    hint,
  };
}

const MODERN: ReadonlyMap<string, string> = new Map([
  ...["mfd", "MFD", "Mfd", "mf"].map((old) => [old, "µF"] as const),
  ...["mmf", "mmfd", "MMF", "MMFD", "µµF", "uuF", "mmF"].map((old) => [old, "pF"] as const),
  ["kpF", "nF"],
  ["kp", "nF"],
  ["c/s", "Hz"],
  ["cps", "Hz"],
  ["kc/s", "kHz"],
  ["kc", "kHz"],
  ["Kc", "kHz"],
  ["Mc/s", "MHz"],
  ["Mc", "MHz"],
  ["mho", "S"],
  ["mmho", "mS"],
  ["µmho", "µS"],
  ["umho", "µS"],
  ["Hy", "H"],
  ["mHy", "mH"],
]);

/** Whether a word is a unit of older books. */
export const isOldUnit = (text: string): boolean => text === "cm" || MODERN.has(text);

/** A unit of older books, and what it is called now. */
export function oldUnit({ number, suffix }: Pieces, unit: AnyUnit): Refusal | undefined {
  if (suffix === "cm" && unit === "farad") {
    const picofarads = Number((Number(number) * 1.11265).toPrecision(3));
    return {
      why: "is in centimetres, the old unit of capacitance",
      hint: `1 cm is 1.11 pF: write ${picofarads}p`,
    };
  }
  const modern = MODERN.get(suffix);
  if (modern === undefined) return undefined;
  return { why: `has the old unit "${suffix}"`, hint: `write ${written(number)} ${modern}` };
}

/** How to write `1/4W`, `22n/63V` and the `100/10` of an electrolytic. */
export function slashed(text: string, unit: AnyUnit): string | undefined {
  const [, first = "", second = "", unitWord = ""] = /^([\d.,]+[^/]*)\/(\d+) *(\S*)$/.exec(text) ?? [];
  if (first === "") return undefined;
  if (unit === "watt") return `write ${Number((Number(first) / Number(second)).toPrecision(3))} W`;
  if (unit !== "farad" || (unitWord !== "" && unitWord !== "V")) return undefined;
  return `write ${first}${/\d$/.test(first) ? "µ" : ""} ${second} V`;
}
