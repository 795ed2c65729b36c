/**
 * The test circuits of a data sheet, with every junction at 25 °C: the supply is turned up until the
 * collector current is what the sheet says, and the meters are read.
 */
import { response } from "../../src/bench/response.ts";
import type { TransistorReading, VoltageChart } from "../../src/bench/results.ts";
import { voltages } from "../../src/bench/voltages.ts";
import type { Circuit, DeviceType, PartState } from "../../src/circuit/circuit.ts";
import { thermalVoltage } from "../../src/devices/constants.ts";
import { readNetlist } from "../../src/language/index.ts";

const VT = thermalVoltage(298.15);

/** A netlist without errors; warnings about loose ends are the point of such circuits. */
function circuitOf(lines: readonly string[]): Circuit {
  const { circuit, diagnostics } = readNetlist(["use library", ...lines].join("\n"), { file: "test" });
  const errors = diagnostics.filter(({ severity }) => severity === "error");
  if (circuit === undefined || errors.length > 0) throw new Error(errors.map((e) => e.message).join("\n"));
  return circuit;
}

const emf = (part: string, value: number): PartState => ({ part, key: "emf", value });

function chartOf(circuit: Circuit, set: readonly PartState[]): VoltageChart {
  const { results, failures } = voltages(circuit, { set, isothermal: true });
  if (results[0] === undefined) throw new Error(failures[0]?.message);
  return results[0];
}

/** The supply voltage at which `amps` gives `wanted`, by the secant rule. */
function turnedUp(wanted: number, start: number, amps: (volts: number) => number): number {
  let [a, b] = [start, start * 1.02];
  let [fa, fb] = [amps(a) - wanted, amps(b) - wanted];
  for (let k = 0; k < 30 && Math.abs(fb) > 1e-11 * wanted && fb !== fa; k++) {
    const next = b - (fb * (b - a)) / (fb - fa);
    [a, fa] = [b, fb];
    [b, fb] = [next, amps(next) - wanted];
  }
  return b;
}

const ends = (type: DeviceType, from: string, to: string) =>
  type.device === "npn" ? `plus ${from} minus ${to}` : `plus ${to} minus ${from}`;

/** What the meters show, all counted positive in a conducting transistor. */
export interface Reading {
  readonly collector: number;
  readonly base: number;
  readonly volts: number;
}

const positive = (type: DeviceType, at: TransistorReading): Reading => {
  const p = type.device === "npn" ? 1 : -1;
  return { collector: p * at.ic_amps, base: p * at.ib_amps, volts: p * at.vbe_volts };
};

/**
 * Common base, collector current `amps`. `drop` volts, what the base resistance is expected to drop, lie
 * between base and collector lead, so that the collector junction itself stands at 0 V.
 */
export function atZeroCollectorVoltage(type: DeviceType, amps: number, drop: number): Reading {
  const circuit = circuitOf([
    `battery B1 10 V ${ends(type, "chassis", "feed")}`,
    `battery B2 1 V ${ends(type, "chassis", "T1.c")}`,
    `resistor R1 ${10 / amps} ohm feed to T1.e`,
    `transistor T1 ${type.name} b chassis`,
  ]);
  const read = (volts: number) =>
    positive(type, chartOf(circuit, [emf("B1", volts), emf("B2", drop)]).transistors.T1!);
  return read(turnedUp(amps, 10.2, (volts) => read(volts).collector));
}

/** Collector current at `volts` from collector to base, emitter open. */
export function emitterOpen(type: DeviceType, volts: number): number {
  const circuit = circuitOf([
    `battery B1 ${volts} V ${ends(type, "T1.c", "chassis")}`,
    `transistor T1 ${type.name} b chassis`,
  ]);
  return positive(type, chartOf(withType(circuit, type), []).transistors.T1!).collector;
}

/** The circuit with this very type in place of the library's of the same name. */
const withType = (circuit: Circuit, type: DeviceType): Circuit => ({
  ...circuit,
  types: { ...circuit.types, [type.name]: type },
});

export interface Speed {
  /** Where |h_fe|, carried on at 6 dB an octave, is 1; Hz. */
  readonly hertz: number;
  readonly transconductance: number;
  /** Voltage across the emitter junction itself. */
  readonly junction: number;
}

/** Common emitter, collector current `amps`, `volts` across the collector junction, collector shorted for the signal. */
export function speedAt(type: DeviceType, hfe: number, amps: number, volts: number, rbb: number): Speed {
  const circuit = withType(
    circuitOf([
      `battery B1 10 V ${ends(type, "feed", "chassis")}`,
      "generator G1 1 mV warm to feed",
      `resistor R1 ${(10 * hfe) / amps} ohm warm to T1.b`,
      `battery B2 ${volts} V ${ends(type, "T1.c", "chassis")}`,
      `transistor T1 ${type.name} e chassis`,
      "path base from G1 to R1 current",
      "path collector from G1 to B2 current",
    ]),
    type,
  );
  let junction = 0;
  const set = (supply: number) => [emf("B1", supply), emf("B2", volts + junction)];
  const read = (supply: number) => positive(type, chartOf(circuit, set(supply)).transistors.T1!);
  let supply = 10.2;
  for (let k = 0; k < 3; k++) {
    supply = turnedUp(amps, supply, (trial) => read(trial).collector);
    const at = read(supply);
    junction = at.volts - at.base * rbb;
  }
  const chart = chartOf(circuit, set(supply));
  return {
    hertz: unityGain(circuit, set(supply), type),
    transconductance: chart.transistors.T1!.gm_siemens,
    junction,
  };
}

/**
 * With the collector shorted, h_fe·(1/h0 + jωa) = 1 − jωb for two real a and b: two readings, one at a
 * frequency where h_fe is real, give a, and f_T = 1/(2πa).
 */
function unityGain(circuit: Circuit, set: readonly PartState[], type: DeviceType): number {
  const gains = (hertz: readonly number[]) => {
    const { results, failures } = response(circuit, { set, isothermal: true }, hertz);
    if (results[0] === undefined || results[1] === undefined) throw new Error(failures[0]?.message);
    const [base, collector] = results;
    return hertz.map((_, k) => {
      const [ar, ai, br, bi] = [collector.real[k]!, collector.imag[k]!, base.real[k]!, base.imag[k]!];
      // the collector's current leaves by the battery's upper end
      const sign = type.device === "npn" ? -1 : 1;
      const size = sign * (br * br + bi * bi);
      return { re: (ar * br + ai * bi) / size, im: (ai * br - ar * bi) / size };
    });
  };
  const [slow] = gains([1e-3]);
  const hertz = (type.figures.ft ?? type.figures.falpha ?? type.figures.fbeta ?? 1e6) / slow!.re;
  const [fast] = gains([hertz]);
  const a = (fast!.re / slow!.re - 1) / (2 * Math.PI * hertz * fast!.im);
  return 1 / (2 * Math.PI * a);
}

/** Voltage across a diode that carries `amps`. */
export function forwardVolts(type: DeviceType, amps: number): number {
  const circuit = circuitOf([
    "battery B1 10 V plus feed minus chassis",
    `resistor R1 ${10 / amps} ohm feed to warm`,
    `diode D1 ${type.name} anode warm cathode chassis`,
  ]);
  const read = (volts: number) => chartOf(circuit, [emf("B1", volts)]).parts.D1!;
  return read(turnedUp(amps, 10.2, (volts) => read(volts).amps)).volts;
}

/** Depletion capacitance at reverse voltage `v` by the law of docs/models.md. */
export function depletion(farads: number, at: number, potential: number, v: number): number {
  const edge = -potential / 2;
  if (v >= edge) return farads * Math.sqrt((at + potential) / (v + potential));
  return depletion(farads, at, potential, edge) * (1 - (v - edge) / (2 * (edge + potential)));
}

export { VT };
