/** Small circuits about tape whose curves are closed forms. */
import type { Circuit } from "../../src/circuit/circuit.ts";
import { readNetlist } from "../../src/language/index.ts";

export function circuitOf(text: string): Circuit {
  const { circuit, diagnostics } = readNetlist(text, { file: "tape.netlist", files: () => undefined });
  if (circuit === undefined) throw new Error(diagnostics[0]?.message);
  return circuit;
}

/**
 * A head without resistance into R1, and R2 in series with C1 across the output: one pole at
 * (R1 + R2)·C1 = 3180 µs, one zero at R2·C1 = 120 µs, exactly what 3180/120 asks for.
 */
export const IDEAL = `circuit "ideal equaliser"
head K1 1µH gap 3 µm spacing 0.5 µm coating 12 µm in to chassis
resistor R1 30.6k in to out
resistor R2 1.2k out to a
capacitor C1 100n a to chassis
path playback from K1 to out
`;

/** The same without the lengths of the head. */
export const PLAIN = IDEAL.replace(" gap 3 µm spacing 0.5 µm coating 12 µm", "");

/** A head of 100 mH with 1 nF across it, damped by 47 kΩ, and nothing else. */
export const RESONANT = `circuit "head alone"
head K1 100mH dcr 100 ohm capacitance 1n in to chassis
resistor R1 47k in to chassis
path playback from K1 to in
`;

/**
 * One amplifier's two feedbacks in small: in play C1 falls treble off, in record L1 is in the way of bass.
 * R4 is in both.
 */
export const SWITCHED = `circuit "two ways"
switch S1 play record
    pole way out play low record high
generator G1 1V source 1k in to chassis
resistor R4 10k in to out
resistor R1 1k low to foot
capacitor C1 100n foot to chassis
resistor R2 1k high to coil
inductor L1 100mH coil to chassis
mode play S1 play
mode record S1 record
path playback in play from G1 to out
path recording in record from G1 to out
`;
