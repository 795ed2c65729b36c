/** The voltmeter as it is written on the sheet. */
import type { Meter } from "../../bench/conditions.ts";
import { readQuantity } from "../../language/index.ts";

/** What people have, common practice, no source. */
export const METERS = ["20 kΩ/V", "10 kΩ/V", "1 kΩ/V", "50 kΩ/V", "10 MΩ", "1 MΩ"];

/** `20 kΩ/V`, `20k/V` or `10M`: a meter; an empty text is an ideal one. */
export function readMeter(text: string): Meter | { readonly message: string } | undefined {
  const plain = text.trim();
  if (plain === "") return undefined;
  const perVolt = /^(.*?)\s*\/\s*V$/i.exec(plain)?.[1];
  const ohms = readQuantity(perVolt ?? plain, "ohm");
  if (typeof ohms !== "number" || !(ohms > 0) || !Number.isFinite(ohms)) {
    return { message: `"${plain}" is no meter; write 20 kΩ/V, or 10 MΩ` };
  }
  return perVolt === undefined ? { ohms } : { ohmsPerVolt: ohms };
}
