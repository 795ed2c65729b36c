/** Numbers and names of suspects as people read them. */
import type { Amount, NamedFault, ReadingUnit } from "../bench/suspects/results.ts";
import { decimal, withUnit } from "./numbers.ts";
import { quantityText } from "./quantities.ts";

/** Three digits, as a meter shows them. */
export const readingText = (value: number, unit: ReadingUnit): string =>
  unit === "dB" ? `${decimal(value, 1)}\u00a0dB` : withUnit(value, unit);

/** Two digits: no reading tells more of a fault's amount. */
const amountText = ({ value, unit }: Amount): string =>
  unit === "number" ? String(Number(value.toPrecision(2))) : quantityText(value, unit, 2);

/** `C5 leaky, about 1 kΩ`. */
export const faultText = ({ part, fault, amount }: NamedFault): string =>
  `${part} ${fault}${amount === undefined ? "" : `, about ${amountText(amount)}`}`;

/** `73 %`, `< 1 %`. */
export const percentText = (share: number): string => {
  if (share > 0.995 && share < 1) return ">\u00a099\u00a0%";
  return share < 0.01 && share > 0 ? "<\u00a01\u00a0%" : `${decimal(100 * share, 0)}\u00a0%`;
};

export const bitsText = (bits: number): string => `${decimal(bits, 2)}\u00a0bit`;
