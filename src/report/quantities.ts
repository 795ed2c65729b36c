import { celsius, decimal, plain, withUnit } from "./numbers.ts";

const SYMBOLS: Readonly<Record<string, string>> = {
  volt: "V",
  ampere: "A",
  second: "s",
  hertz: "Hz",
  farad: "F",
  henry: "H",
  ohm: "Ω",
  watt: "W",
  kelvin: "K",
  siemens: "S",
  "kelvin-per-watt": "K/W",
  torque: "N·m",
  "volt-per-rpm": "V/rpm",
};

/**
 * An SI value (°C and fractions apart) with the symbol of its unit, to so many significant digits, as a parts
 * list writes it: `4.7 kΩ`, `30 %`.
 */
export function quantityText(value: number, unit: string, digits = 3): string {
  if (unit === "celsius") return celsius(value);
  if (unit === "percent") return `${decimal(value * 100, 0)} %`;
  if (unit === "rpm") return `${decimal(value, 0)} rpm`;
  if (unit === "inertia") return trimmed(`${plain(1e7 * value)} g·cm²`);
  const symbol = SYMBOLS[unit];
  return trimmed(symbol === undefined ? plain(value) : withUnit(value, symbol, digits));
}

/** Without the zeros behind the last digit that counts, as on a parts list. */
const trimmed = (text: string): string => text.replace(/(\.\d*?)0+(?=\D|$)/, "$1").replace(/\.(?=\D|$)/, "");
