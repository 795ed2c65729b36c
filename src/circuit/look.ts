import type { Circuit } from "./circuit.ts";

/** What is read at the bench: where the probes go and what the instrument is set to. */
export type Look =
  | { readonly kind: "voltage"; readonly net: number; readonly minus: number }
  /** Into a pin of a part, by index into `Circuit.parts` and `Part.pins`, A. */
  | { readonly kind: "current"; readonly part: number; readonly pin: number }
  /** To chassis with the batteries out, Ω, at a test voltage too low for junctions. */
  | { readonly kind: "resistance"; readonly net: number }
  /** dB. */
  | { readonly kind: "gain"; readonly path: string; readonly hertz: number };

/** A reading as somebody took it. */
export interface TakenReading {
  /** A mode of the circuit; with ` off` behind it, the batteries were out. */
  readonly mode: string;
  /** As written: `T1.c`, `B1 current`. */
  readonly point: string;
  readonly look: Look;
  /** Volts, amperes, ohms or dB. */
  readonly value: number;
  /** Taken with the leads either way round: its size alone counts. */
  readonly unsigned?: true;
}

/** The `reading` statements of a netlist: voltages against chassis, then all others. */
export function statedReadings({
  readings,
  otherReadings = [],
}: Pick<Circuit, "readings" | "otherReadings">): readonly TakenReading[] {
  const voltages = readings.map(({ mode, point, net, volts }): TakenReading => {
    return { mode, point, look: { kind: "voltage", net, minus: 0 }, value: volts };
  });
  return [...voltages, ...otherReadings];
}
