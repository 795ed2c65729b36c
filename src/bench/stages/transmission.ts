/**
 * How the transistors act on one another. With all transconductances at rest, one ampere of generator k
 * puts a voltage on the control of generator j; −gm_j times this voltage is the transmission L_jk. Then
 *
 *     (1 + L)·I = a            I  the generators' currents, a  what the source alone would drive
 *
 * and every return ratio follows from L, the loading of all loops intact (Bode, Network Analysis and
 * Feedback Amplifier Design, 1945, chapters IV and VI): with B = (1 + L)⁻¹, that of generator k is
 * 1/B_kk − 1, that of the link from k to j alone L_jk·B_kj/(1 − L_jk·B_kj). det(1 + L) has its zeros at
 * the natural frequencies of the circuit.
 */
import { controlVoltage, generatorDrive, type LinearCircuit } from "./linear-circuit.ts";
import { invert, type Matrix } from "./matrix.ts";
import { minus, ONE, over, type Phasor, plus, scaled, times } from "./phasor.ts";

export interface Transmission {
  readonly hertz: number;
  /** L, row: the transistor acted on; column: the transistor that acts. */
  readonly links: Matrix;
  /** (1 + L)⁻¹ */
  readonly inverse: Matrix;
  /** det(1 + L) */
  readonly determinant: Phasor;
}

/** L and what follows from it at `hertz`; undefined where nothing determines some voltage. */
export function transmission(circuit: LinearCircuit, hertz: number): Transmission | undefined {
  const { transistors } = circuit;
  if (!circuit.tuneResting(hertz)) return undefined;
  const columns = transistors.map((acting) => {
    const solved = circuit.resting(generatorDrive(acting));
    return transistors.map((acted) => scaled(controlVoltage(solved, acted), -acted.gm));
  });
  const links = transistors.map((_, j) => columns.map((column) => column[j]!));
  const differences = links.map((row, j) => row.map((link, k) => (j === k ? plus(ONE, link) : link)));
  return { hertz, links, ...invert(differences) };
}

/** Return ratio of the generator of transistor `k`. */
export const generatorReturn = ({ inverse }: Transmission, k: number): Phasor =>
  minus(over(ONE, inverse[k]![k]!), ONE);

/** Return ratio of the link from transistor `k` to transistor `j`, all other links as they are. */
export function linkReturn({ links, inverse }: Transmission, j: number, k: number): Phasor {
  const share = times(links[j]![k]!, inverse[k]![j]!);
  return over(share, minus(ONE, share));
}
