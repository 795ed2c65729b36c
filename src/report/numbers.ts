/**
 * Numbers as people read them: three or four significant digits, SI prefixes, a true minus sign.
 * Files for machines never come through here.
 */

/** Shown and written instead of the −∞ dB of an output that is exactly zero. */
export const SILENCE_DB = -400;

const MINUS = "\u2212";
/** Between a number and its unit: must not be torn apart at the end of a line. */
const SPACE = "\u00a0";

/** Gain in dB as tables and files may hold it: no lower than −400 dB, which also stands for silence. */
export const finiteDecibels = (gain: number): number =>
  Number.isNaN(gain) ? SILENCE_DB : Math.max(SILENCE_DB, gain);

/** `value` with so many decimals and a true minus sign; never −0. Not a number: an en dash. */
export function decimal(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return "–";
  const digits = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(digits) !== 0 ? MINUS + digits : digits;
}

/** How many decimals show `value` to `digits` significant digits, at most `most`. */
function decimalsFor(value: number, digits: number, most: number): number {
  const rounded = Math.abs(Number(value.toPrecision(digits)));
  if (!(rounded > 0) || !Number.isFinite(rounded)) return 0;
  return Math.min(most, Math.max(0, digits - 1 - Math.floor(Math.log10(rounded))));
}

/** Three significant digits, but none beyond the third decimal: `−8.99`, `−0.143`, `0`. */
export function plain(value: number): string {
  const text = decimal(value, decimalsFor(value, 3, 3));
  return Number(text) === 0 ? "0" : text;
}

/** To a hundredth, with a plus sign where the number is above zero: for differences. */
export function signed(value: number): string {
  const text = decimal(value, 2);
  if (Number(text) === 0) return "0";
  return value > 0 ? `+${text}` : text;
}

const PREFIXES = ["p", "n", "µ", "m", "", "k", "M", "G"] as const;
const UNITY = 4;

/** `value` in `unit` with an SI prefix, to `digits` significant digits: `4.73 mA`, `12.5 kHz`, `0 V`. */
export function withUnit(value: number, unit: string, digits = 3): string {
  if (!Number.isFinite(value)) return "–";
  const rounded = Number(value.toPrecision(digits));
  if (rounded === 0) return `0${SPACE}${unit}`;
  const thousands = Math.floor(Math.log10(Math.abs(rounded)) / 3 + 1e-12);
  const index = Math.min(PREFIXES.length - 1, Math.max(0, thousands + UNITY));
  const scaled = rounded / 1000 ** (index - UNITY);
  return `${decimal(scaled, decimalsFor(scaled, digits, 6))}${SPACE}${PREFIXES[index]}${unit}`;
}

/** Volts, `−143 mV`. */
export const volts = (value: number): string => withUnit(value, "V");
/** Amperes, `4.73 mA`. */
export const amps = (value: number): string => withUnit(value, "A");
/** Ohms, `4.7 kΩ`: trailing zeros are left out, as on a parts list. */
export const ohms = (value: number): string => trimmed(withUnit(value, "Ω"));
/** Watts, `38.2 mW`. */
export const watts = (value: number): string => withUnit(value, "W");
/** Hertz, `63 Hz`, `12.5 kHz`: trailing zeros are left out. */
export const hertz = (value: number): string => trimmed(withUnit(value, "Hz"));
/** Decibels to a tenth; an en dash for silence. */
export const decibels = (value: number): string =>
  value <= SILENCE_DB || Number.isNaN(value) ? "–" : decimal(value, 1);
/** Degrees Celsius, whole. */
export const celsius = (value: number): string => `${decimal(value, 0)}${SPACE}°C`;

/** Hertz without prefix or unit, to four significant digits, as in a column: `63`, `89.8`, `12500`. */
export const hertzPlain = (value: number): string => String(Number(value.toPrecision(4)));

/** Gain with its unit, `62.3 dB`; that of a current `−20.1 dB re 1 A/V`. */
export const gainText = (gain: number, quantity: "voltage" | "current"): string =>
  `${decibels(gain)}${SPACE}dB${quantity === "current" ? ` re 1${SPACE}A/V` : ""}`;

/** Hertz without the unit, as on an axis: `50`, `12.5k`. */
export const hertzMark = (value: number): string => hertz(value).replace(SPACE, "").replace("Hz", "");

const trimmed = (text: string): string => text.replace(/(\.\d*?)0+(?=\D|$)/, "$1").replace(/\.(?=\D|$)/, "");
