/** A reading against its band: how it is read, whether it lies outside, and on which side. */
import { readQuantity } from "../../language/index.ts";

/** A band of what is to be expected, V or A. */
export interface Band {
  readonly least: number;
  readonly greatest: number;
}

/**
 * Volts of a reading as typed: `-1.43`, `1,43`, `−150 mV`. Without a sign it takes that of what is expected,
 * since nobody writes a minus beside every figure of a set with plus on chassis. Undefined for an empty text;
 * a sentence if it is no voltage.
 */
export function readingVolts(text: string, expected = 0): number | { readonly message: string } | undefined {
  const plain = text.replaceAll("\u2212", "-").trim();
  if (plain === "") return undefined;
  const found = readQuantity(plain.replace(/^\+/, ""), "volt");
  if (typeof found !== "number") return { message: found.message };
  return /^[+-]/.test(plain) || expected >= 0 ? found : -found;
}

const SCALES: Readonly<Record<string, number>> = { k: 1e3, m: 1e-3, µ: 1e-6, μ: 1e-6, u: 1e-6 };

/** Half a unit of the last digit written: a reading is no more exact than it was noted down, V or A. */
export function noted(text: string): number {
  const [, digits = "", prefix] = /(\d*[.,]?\d+)\s*([kmµμu]?)/.exec(text) ?? [];
  const decimals = /[.,](\d+)$/.exec(digits)?.[1]?.length ?? 0;
  return 0.5 * 10 ** -decimals * (SCALES[prefix ?? ""] ?? 1);
}

export type Mark = "above" | "below" | "inside";

/** On which side of its band a reading lies, its last digit's rounding granted. */
export function markOf(value: number, rounding: number, { least, greatest }: Band): Mark {
  if (value - rounding > greatest) return "above";
  return value + rounding < least ? "below" : "inside";
}

/** The sign that marks a reading beyond its band; more than colour. */
export const SIGNS: Readonly<Record<Mark, string>> = { above: "▲", below: "▼", inside: "" };

/**
 * The band as the meter would read it: a meter draws all specimens of a point towards chassis by about the same
 * share.
 */
export function asMetered({ least, greatest }: Band, volts: number, metered: number | undefined): Band {
  if (metered === undefined || Math.abs(volts) < 1e-6) return { least, greatest };
  const share = metered / volts;
  if (!(share > 0)) return { least, greatest };
  return { least: least * share, greatest: greatest * share };
}
