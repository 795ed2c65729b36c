import type { Adjustment } from "../bench/adjust.ts";
import { celsius, decimal } from "./numbers.ts";
import { quantityText } from "./quantities.ts";

/** A reading of the condition's quantity with its unit, `5.00 mA`, `50.0 dB`. */
export function readingText(value: number, unit: string): string {
  if (unit === "decibel") return `${decimal(value, 2)}\u00a0dB`;
  if (unit === "celsius") return celsius(value);
  return quantityText(value, unit);
}

/** The labels of an axis, where round numbers stand: as many digits as tell them apart. */
export function tickTexts(ticks: readonly number[], unit: string): readonly string[] {
  const [first = 0, second = first] = ticks;
  const step = Math.abs(second - first) || 1;
  const decimals = Math.max(0, Math.ceil(-Math.log10(step) - 1e-9));
  if (unit === "decibel") return ticks.map((tick) => `${decimal(tick, decimals)}\u00a0dB`);
  if (unit === "celsius") return ticks.map((tick) => `${decimal(tick, decimals)}\u00a0°C`);
  const largest = Math.max(...ticks.map(Math.abs), step);
  const digits = Math.max(3, 1 + Math.ceil(Math.log10(largest / step)));
  return ticks.map((tick) => quantityText(tick, unit, digits));
}

/** Where the knob stands: `42.3 %`, `4.87 kΩ`. */
export function knobText(value: number, unit: string, digits = 3): string {
  if (unit === "percent") return `${decimal(100 * value, 1)}\u00a0%`;
  return quantityText(value, unit, digits);
}

/** The same at a mark of an axis, where round numbers stand: `40 %`. */
export const knobTick = (value: number, unit: string): string =>
  knobText(value, unit).replace(/\.0(?=\u00a0%$)/, "");

export const placeText = (result: Adjustment): string =>
  knobText(result.setting ?? result.value ?? 0, result.value_unit, 4);

/** `P2`, `C2 esr`: the part alone where its usual knob is meant. */
export function knobName({ part, key }: Adjustment): string {
  return ["setting", "resistance", "capacitance", "inductance", "emf"].includes(key)
    ? part
    : `${part} ${key}`;
}

/** What is looked at, without the value wanted of it. */
export function lookedText({ condition, oscillation_hertz: hertz }: Adjustment): string {
  const looked = condition.replace(/^(least|greatest) /, "").replace(/\s*=.*$/, "");
  if (hertz === undefined) return looked;
  return looked.replace(" at oscillation", ` at ${quantityText(hertz, "hertz", 4)}`);
}

/** What was found, in a sentence. */
export function outcome(result: Adjustment): string {
  const { met, target, achieved, unit, condition } = result;
  const name = knobName(result);
  const reading = `${lookedText(result)} ${readingText(achieved, unit)}`;
  if (!met) return `nothing meets ${condition}; nearest is ${name} at ${placeText(result)}, with ${reading}`;
  if (target === undefined) return `${condition}: ${name} at ${placeText(result)}, with ${reading}`;
  return `${name} at ${placeText(result)} gives ${reading}`;
}
