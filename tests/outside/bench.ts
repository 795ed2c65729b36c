/** What the checks against published figures share: text in, volts and gains out. */
import { expect } from "vitest";
import type { Conditions, Meter } from "../../src/bench/conditions.ts";
import { response } from "../../src/bench/response.ts";
import type { TransistorReading, VoltageChart } from "../../src/bench/results.ts";
import { voltages } from "../../src/bench/voltages.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { readNetlist } from "../../src/language/index.ts";

/** A gain (or a transfer admittance, A/V) at one frequency. */
export interface Gain {
  readonly re: number;
  readonly im: number;
  readonly magnitude: number;
  readonly db: number;
  readonly degrees: number;
}

/** The circuit of `text`, which must be free of errors. */
export function circuitOf(text: string): Circuit {
  const { circuit, diagnostics } = readNetlist(text);
  const errors = diagnostics.filter(({ severity }) => severity === "error");
  if (circuit === undefined || errors.length > 0) {
    throw new Error(errors.map(({ line, message }) => `line ${line}: ${message}`).join("\n"));
  }
  return circuit;
}

/** The voltage chart of the only mode of `text`. */
export function chartOf(text: string, conditions: Conditions = {}, meter?: Meter): VoltageChart {
  const { results, failures } = voltages(circuitOf(text), conditions, meter);
  const [chart] = results;
  if (chart === undefined) throw new Error(failures.map(({ message }) => message).join("\n"));
  return chart;
}

/** Gains of the first path of `text` at each of `hertz`. */
export function gainsOf(text: string, hertz: readonly number[], conditions: Conditions = {}): Gain[] {
  const { results, failures } = response(circuitOf(text), conditions, hertz);
  const [path] = results;
  if (path === undefined) throw new Error(failures.map(({ message }) => message).join("\n"));
  return hertz.map((_, k) => {
    const re = path.real[k]!;
    const im = path.imag[k]!;
    const degrees = (Math.atan2(im, re) * 180) / Math.PI;
    return { re, im, magnitude: Math.hypot(re, im), db: 20 * Math.log10(Math.hypot(re, im)), degrees };
  });
}

/** Gain of the first path of `text` at `hertz`. */
export const gainOf = (text: string, hertz: number, conditions: Conditions = {}): Gain =>
  gainsOf(text, [hertz], conditions)[0]!;

/**
 * Impedance in ohms that the generator `name` (an EMF without resistance) looks into. The current counts
 * from the generator's first pin through it to its second, so that what it delivers is negative.
 */
export function impedanceAt(text: string, hertz: number, name = "G1"): Gain {
  const { re, im } = gainOf(`${text}\npath impedance from ${name} to ${name} current\n`, hertz);
  const square = re * re + im * im;
  const ohms = { re: -re / square, im: im / square };
  const magnitude = 1 / Math.sqrt(square);
  const degrees = (Math.atan2(ohms.im, ohms.re) * 180) / Math.PI;
  return { ...ohms, magnitude, db: 20 * Math.log10(magnitude), degrees };
}

/** Frequency between `low` and `high` where `of` changes sign, by halving the interval. */
export function crossing(low: number, high: number, of: (hertz: number) => number): number {
  let [a, b] = [low, high];
  const atLow = Math.sign(of(a));
  if (atLow === Math.sign(of(b))) throw new Error(`no change of sign between ${low} and ${high} Hz`);
  for (let halving = 0; halving < 45; halving++) {
    const middle = (a + b) / 2;
    if (Math.sign(of(middle)) === atLow) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}

/** The reading of a transistor of the chart, as magnitudes: PNP and NPN answers are equal in magnitude. */
export function transistorIn(chart: VoltageChart, name = "T1") {
  const found: TransistorReading | undefined = chart.transistors[name];
  if (found === undefined) throw new Error(`no ${name} in the chart`);
  return {
    ...found,
    ic: Math.abs(found.ic_amps),
    ib: Math.abs(found.ib_amps),
    ie: Math.abs(found.ie_amps),
    vbe: Math.abs(found.vbe_volts),
    vce: Math.abs(found.vce_volts),
    vb: Math.abs(found.b_volts),
    ve: Math.abs(found.e_volts),
    vc: Math.abs(found.c_volts),
  };
}

/** Volts of a net of the chart by its shown name. */
export function netIn(chart: VoltageChart, name: string): number {
  const net = chart.nets[name];
  if (net === undefined) throw new Error(`no net ${name} in the chart: ${Object.keys(chart.nets).join(" ")}`);
  return net.volts;
}

/** `actual` deviates from `expected` by at most the share `relative`. */
export function expectNear(actual: number, expected: number, relative: number): void {
  const deviation = Math.abs(actual - expected) / Math.abs(expected);
  expect(deviation, `${actual} for ${expected}: off by ${deviation}`).toBeLessThanOrEqual(relative);
}

/** `actual` deviates from `expected` by at most `absolute`, of the same unit: half the last digit printed, mostly. */
export function expectWithin(actual: number, expected: number, absolute: number): void {
  expect(Math.abs(actual - expected), `${actual} for ${expected}`).toBeLessThanOrEqual(absolute);
}

const PREFIXES = [
  [1e9, "G"],
  [1e6, "M"],
  [1e3, "k"],
  [1, ""],
  [1e-3, "m"],
  [1e-6, "µ"],
  [1e-9, "n"],
  [1e-12, "p"],
] as const;

/** A value as the netlist writes it, with prefix and unit: `quantity(4700, "ohm")` is `4.7 kohm`. */
export function quantity(value: number, unit: string): string {
  const [scale, prefix] = PREFIXES.find(([least]) => Math.abs(value) >= least) ?? [1e-12, "p"];
  return `${Number((value / scale).toPrecision(15))} ${value === 0 ? "" : prefix}${unit}`;
}

export const ohms = (value: number): string => quantity(value, "ohm");
export const farads = (value: number): string => quantity(value, "F");
export const henries = (value: number): string => quantity(value, "H");
