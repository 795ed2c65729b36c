/**
 * The transistors of textbooks, stated in our language.
 *
 * Bias examples hold V_BE and β constant. Our transistor follows its exponential, so the type is restated
 * until V_BE is the book's value at the very current the circuit draws; Early voltage is made a million volts,
 * base resistance and capacitances nothing, and the leakage as small as V_BE and β allow (no sample leaks
 * less than its emitter-base junction's own Is/(β+1)), unless the book gives one.
 *
 * Small-signal examples give h-parameters. There the operating point is free, so the current is chosen by
 * h11 = β·V_T/I, the Early voltage by h22, and h12 is a resistor from collector to base. Chokes of a megahenry
 * and capacitors of a farad bias the transistor without touching the signal.
 */

import type { VoltageChart } from "../../src/bench/results.ts";
import { chartOf, ohms, quantity, transistorIn } from "./bench.ts";
import { BOLTZMANN, ELEMENTARY_CHARGE } from "./physics.ts";

const T0 = 298.15;
const thermalVoltage = (kelvin: number) => (BOLTZMANN * kelvin) / ELEMENTARY_CHARGE;

export interface BookTransistor {
  readonly device?: "npn" | "pnp";
  /** Current gain; `IDEAL_BETA` where the book neglects the base current. */
  readonly beta: number;
  /** V_BE, volts. */
  readonly vbe: number;
  /** I_CBO, amperes; next to none if not given. */
  readonly leakage?: number;
  /** The book's kT/q, volts: sets the ambient temperature. Otherwise 25 °C. */
  readonly vt?: number;
}

/** Where a book neglects the base current. */
export const IDEAL_BETA = 1e6;

const kelvinOf = (book: BookTransistor) =>
  book.vt === undefined ? T0 : (book.vt * ELEMENTARY_CHARGE) / BOLTZMANN;

/** The type that has the book's V_BE at collector current `amps`. */
function typeOf(name: string, book: BookTransistor, amps: number): string {
  const kelvin = kelvinOf(book);
  // hfe follows T^1.5 in the model and is given at 25 °C
  const beta = book.beta / (kelvin / T0) ** 1.5;
  const saturation = amps / Math.expm1(book.vbe / thermalVoltage(T0));
  const leakage = book.leakage ?? (2 * saturation) / (beta + 1);
  return `type ${name} ${book.device ?? "npn"} ${book.vbe > 0.5 ? "silicon" : "germanium"}
    hfe ${beta} at 1 mA
    vbe ${quantity(book.vbe, "V")} at ${quantity(amps, "A")}
    leakage ${quantity(leakage, "A")} at 25 °C
    rbb 0 ohm
    early 1 MV
    ccb 0 pF at 1 V
    ft 1 GHz at 1 mA
`;
}

export interface Settled {
  /** The whole netlist, types included. */
  readonly text: string;
  readonly chart: VoltageChart;
}

/**
 * Solves `parts`, in which every transistor is of type BOOK, with V_BE held at the book's value: the type of
 * each transistor is restated for the current found until its V_BE is right to a nanovolt.
 */
export function settle(parts: string, book: BookTransistor): Settled {
  const vt = thermalVoltage(kelvinOf(book));
  const names = [...parts.matchAll(/^transistor (\w+)/gm)].map(([, name]) => name ?? "");
  const wired = parts.replace(/^(transistor (\w+)) BOOK/gm, "$1 BOOK$2");
  const amps = new Map(names.map((name) => [name, 1e-3]));
  for (let round = 0; round < 30; round++) {
    const types = names.map((name) => typeOf(`BOOK${name}`, book, amps.get(name)!)).join("");
    const text = `ambient ${kelvinOf(book) - 273.15} °C\n${types}${wired}`;
    const chart = chartOf(text);
    const excess = new Map(names.map((name) => [name, transistorIn(chart, name).vbe - book.vbe]));
    if ([...excess.values()].every((volts) => Math.abs(volts) < 1e-9)) return { text, chart };
    for (const [name, volts] of excess) amps.set(name, amps.get(name)! * Math.exp(volts / vt));
  }
  throw new Error("V_BE does not settle at the book's value");
}

/** The chart of `parts` with the book's V_BE and β. */
export const bookChart = (parts: string, book: BookTransistor): VoltageChart => settle(parts, book).chart;

export interface DividerBias {
  readonly supply: number;
  readonly r1: number;
  readonly r2: number;
  readonly rc: number;
  readonly re: number;
}

/** Base divider, collector and emitter resistor; nets `rail`, T1.b, T1.c, T1.e. */
export const dividerBias = (
  { supply, r1, r2, rc, re }: DividerBias,
  device: "npn" | "pnp" = "npn",
): string => `
battery B1 ${quantity(supply, "V")} ${device === "npn" ? "plus rail minus chassis" : "plus chassis minus rail"}
resistor R1 ${ohms(r1)} rail to T1.b
resistor R2 ${ohms(r2)} T1.b to chassis
resistor R3 ${ohms(rc)} rail to T1.c
resistor R4 ${ohms(re)} T1.e to chassis
transistor T1 BOOK
`;

export interface HParameters {
  readonly hie: number;
  readonly hfe: number;
  readonly hre?: number;
  readonly hoe?: number;
}

/** Collector-base volts of the transistors below. */
const COLLECTOR = 5;
const EMITTER_DROP = 0.6;
const MINUS = 100;

/**
 * Transistor T`n` with these h-parameters, biased by ideal means. For signals its pins are the nets b`n`,
 * e`n` and c`n`; the names of its other parts begin with `n`'s hundred (L100, C100 … for T1).
 */
export function hTransistor(n: number, { hie, hfe, hre = 0, hoe = 0 }: HParameters): string {
  const vt = thermalVoltage(T0);
  // y-parameters from h-parameters, then the elements of the model at the operating point
  const feedback = hre / hie;
  const output = Math.max(hoe - (hre * hfe) / hie - feedback, 0);
  const transfer = hfe / hie + feedback + output;
  const input = 1 / hie - feedback;
  const collector = transfer * vt;
  const forward = collector - COLLECTOR * output;
  const beta = forward / (vt * input);
  const early = output > 0 ? quantity(forward / output, "V") : "1 GV";
  const rest = (MINUS - EMITTER_DROP) / (collector + forward / beta);
  const h = n * 100;
  return `
type H${n} npn silicon
    hfe ${beta} at 1 mA
    vbe ${quantity(EMITTER_DROP, "V")} at ${quantity(forward, "A")}
    leakage 1 pA at 25 °C
    rbb 0 ohm
    early ${early}
    ccb 0 pF at 1 V
    ft 1 GHz at 1 mA
transistor T${n} H${n}
battery B${h} ${COLLECTOR} V plus supply${n} minus chassis
battery B${h + 1} ${MINUS} V plus chassis minus minus${n}
inductor L${h} 1 MH T${n}.b to chassis
inductor L${h + 1} 1 MH supply${n} to T${n}.c
inductor L${h + 2} 1 MH T${n}.e to rest${n}
resistor R${h} ${ohms(rest)} rest${n} to minus${n}
capacitor C${h} 1 F T${n}.b to b${n}
capacitor C${h + 1} 1 F T${n}.e to e${n}
capacitor C${h + 2} 1 F T${n}.c to c${n}
${feedback > 0 ? `resistor R${h + 1} ${ohms(1 / feedback)} b${n} to c${n}` : ""}
`;
}
