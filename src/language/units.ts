import type { Figure } from "../devices/sheet.ts";
import type { Unit } from "../parts/kind.ts";

/** Every unit a value may be expected in. */
export type AnyUnit = Unit | Figure["unit"];

export interface UnitWords {
  /** How it is written by us. */
  readonly symbol: string;
  /** Every way of writing it that is read, with its power of ten in the unit that values are kept in. */
  readonly symbols: ReadonlyMap<string, number>;
  /** Takes SI prefixes. */
  readonly prefixes: boolean;
  /** For messages: `a resistance`. */
  readonly noun: string;
  /** For hints: values as one would write them. */
  readonly example: string;
}

const written = (...symbols: string[]) => new Map(symbols.map((symbol) => [symbol, 0]));

export const UNITS: Readonly<Record<AnyUnit, UnitWords>> = {
  ohm: {
    symbol: "Ω",
    symbols: written("Ω", "ohm", "ohms", "Ohm", "R"),
    prefixes: true,
    noun: "a resistance",
    example: "4k7, 470R or 2.2 kΩ",
  },
  farad: {
    symbol: "F",
    symbols: written("F", "farad"),
    prefixes: true,
    noun: "a capacitance",
    example: "22n, 4µ7 or 100 µF",
  },
  henry: {
    symbol: "H",
    symbols: written("H", "henry"),
    prefixes: true,
    noun: "an inductance",
    example: "4.7mH or 2.5 H",
  },
  volt: {
    symbol: "V",
    symbols: written("V", "volt", "volts"),
    prefixes: true,
    noun: "a voltage",
    example: "6 V or 150 mV",
  },
  ampere: {
    symbol: "A",
    symbols: written("A", "amp", "amps", "ampere"),
    prefixes: true,
    noun: "a current",
    example: "1 mA or 250 µA",
  },
  watt: { symbol: "W", symbols: written("W", "watt"), prefixes: true, noun: "a power", example: "0.25 W" },
  hertz: { symbol: "Hz", symbols: written("Hz"), prefixes: true, noun: "a frequency", example: "60 kHz" },
  second: { symbol: "s", symbols: written("s", "sec"), prefixes: true, noun: "a time", example: "5 ms" },
  siemens: {
    symbol: "S",
    symbols: written("S"),
    prefixes: true,
    noun: "a conductance",
    example: "20 µS",
  },
  celsius: {
    symbol: "°C",
    symbols: written("°C", "C"),
    prefixes: false,
    noun: "a temperature",
    example: "25 °C",
  },
  kelvin: {
    symbol: "K",
    symbols: written("K"),
    prefixes: false,
    noun: "a value in kelvins",
    example: "3000 K",
  },
  percent: {
    symbol: "%",
    symbols: new Map([["%", -2]]),
    prefixes: false,
    noun: "a percentage",
    example: "50%",
  },
  metre: { symbol: "m", symbols: written("m"), prefixes: true, noun: "a length", example: "3 µm or 0.1 mm" },
  turns: {
    symbol: "turns",
    symbols: written("turns", "turn"),
    prefixes: false,
    noun: "a number of turns",
    example: "1200 turns",
  },
  rpm: {
    symbol: "rpm",
    symbols: written("rpm", "r/min", "1/min", "/min"),
    prefixes: false,
    noun: "a speed",
    example: "2400 rpm",
  },
  "volt-per-rpm": {
    symbol: "V/rpm",
    symbols: written("V/rpm"),
    prefixes: true,
    noun: "a back EMF",
    example: "2.1 mV/rpm",
  },
  inertia: {
    symbol: "g·cm²",
    symbols: new Map([
      ...["g·cm²", "gcm²", "gcm2"].map((symbol) => [symbol, -7] as const),
      ...["kg·cm²", "kgcm²", "kgcm2"].map((symbol) => [symbol, -4] as const),
      ...["kg·m²", "kgm²", "kgm2"].map((symbol) => [symbol, 0] as const),
    ]),
    prefixes: false,
    noun: "a moment of inertia",
    example: "40 gcm2 or 4e-6 kgm2",
  },
  torque: {
    symbol: "N·m",
    symbols: new Map([
      ...["N·m", "Nm"].map((symbol) => [symbol, 0] as const),
      ...["N·cm", "Ncm"].map((symbol) => [symbol, -2] as const),
    ]),
    prefixes: true,
    noun: "a torque",
    example: "0.4 mNm or 0.04 Ncm",
  },
  "kelvin-per-watt": {
    symbol: "K/W",
    symbols: new Map([...written("K/W", "°C/W", "C/W"), ["K/mW", 3], ["°C/mW", 3], ["C/mW", 3]]),
    prefixes: false,
    noun: "a thermal resistance",
    example: "0.4 K/mW or 60 K/W",
  },
  number: { symbol: "", symbols: written(), prefixes: false, noun: "a plain number", example: "40" },
};

/** Powers of ten of the SI prefixes; `u` for µ, and `K` for k where a prefix stands. */
export const PREFIXES: ReadonlyMap<string, number> = new Map([
  ["p", -12],
  ["n", -9],
  ["µ", -6],
  ["u", -6],
  ["m", -3],
  ["k", 3],
  ["K", 3],
  ["M", 6],
  ["G", 9],
]);

const BY_POWER: Readonly<Record<number, string>> = {
  [-12]: "p",
  [-9]: "n",
  [-6]: "µ",
  [-3]: "m",
  0: "",
  3: "k",
  6: "M",
  9: "G",
};

/** `digits` (d.ddd) times ten to `power`, without an exponent and without rounding. */
function shifted(digits: string, power: number): string {
  if (Number(digits) === 0) return "0";
  const [whole = "", fraction = ""] = digits.split(".");
  const all = whole + fraction;
  const point = whole.length + power;
  if (point <= 0) return `0.${"0".repeat(-point)}${all}`;
  if (point >= all.length) return all + "0".repeat(point - all.length);
  return `${all.slice(0, point)}.${all.slice(point)}`;
}

/**
 * A value as it is written in a netlist, `4.7 kΩ`, with as many digits as it takes to read back the same
 * number; `significant` rounds it for messages.
 */
export function writeValue(value: number, unit: AnyUnit, significant?: number): string {
  const words = UNITS[unit];
  const text = value.toExponential(significant === undefined ? undefined : significant - 1);
  const [mantissa = "0", exponent = "0"] = text.split("e");
  const sign = mantissa.startsWith("-") ? "-" : "";
  const digits = significant === undefined ? mantissa.replace("-", "") : trimmed(mantissa.replace("-", ""));
  const power = Number(exponent) - (words.symbols.get(words.symbol) ?? 0);
  if (!words.prefixes) return joined(sign + shifted(digits, power), words.symbol);
  const step = value === 0 ? 0 : Math.max(-12, Math.min(9, 3 * Math.floor(power / 3)));
  return joined(sign + shifted(digits, power - step), BY_POWER[step] + words.symbol);
}

const trimmed = (digits: string) => (digits.includes(".") ? digits.replace(/\.?0+$/, "") : digits);

function joined(number: string, symbol: string): string {
  if (symbol === "") return number;
  return symbol === "%" ? `${number}%` : `${number} ${symbol}`;
}
