import { type ChartRows, PINS } from "./chart-rows.ts";

/** A change smaller than this part of the larger value is none to a meter. */
const NOTICEABLE = 0.03;
/** Nor is one smaller than this, V. */
const LEAST = 0.01;

const PIN_NAMES = { e: "emitter", b: "base", c: "collector" } as const;

/** What stands at other voltages in other modes. */
export interface Differences {
  /** Transistors with the pins that change, `T5 base collector`. */
  readonly transistors: readonly string[];
  /** Nets that no transistor shows. */
  readonly nets: readonly string[];
}

/** Whether values differ by more than 3 %; a net that floats in one mode and not in another differs. */
function differ(values: readonly (number | undefined)[]): boolean {
  const known = values.filter((value) => value !== undefined);
  if (known.length === 0) return false;
  if (known.length < values.length) return true;
  const span = Math.max(...known) - Math.min(...known);
  return span > Math.max(LEAST, NOTICEABLE * Math.max(...known.map(Math.abs)));
}

/** The points whose voltage changes between the modes by more than 3 %. */
export function differences({ transistors, nets }: ChartRows): Differences {
  const changed = transistors.map(({ name, values }) => ({
    name,
    pins: PINS.filter((pin) => differ(values.map((value) => value?.pins[pin].volts))),
  }));
  return {
    transistors: changed
      .filter(({ pins }) => pins.length > 0)
      .map(({ name, pins }) => `${name} ${pins.map((pin) => PIN_NAMES[pin]).join(" ")}`),
    nets: nets
      .filter(({ atTransistor, values }) => !atTransistor && differ(values.map((value) => value?.volts)))
      .map(({ name }) => name),
  };
}

/** The differences in a sentence; empty with one mode. */
export function differenceText(rows: ChartRows): string {
  if (rows.modes.length < 2) return "";
  const { transistors, nets } = differences(rows);
  const all = [...transistors, ...nets];
  if (all.length === 0) return "No voltage differs between the modes by more than 3\u00a0%.";
  return `Differ between the modes by more than 3\u00a0%: ${all.join(", ")}.`;
}
