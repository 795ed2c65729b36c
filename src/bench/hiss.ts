/** Noise at the output of every path and referred to its input, part by part. */
import type { Circuit, SignalPath } from "../circuit/circuit.ts";
import { growingFrequencies, pencilOf } from "../engine/natural-frequencies.ts";
import { SmallSignal } from "../engine/small-signal.ts";
import type { Band } from "./hiss/band.ts";
import { AUDIBLE, pathHiss } from "./hiss/path-hiss.ts";
import type { PathHiss } from "./hiss/results.ts";
import { type ResponseConditions, runsIn } from "./response.ts";
import type { Failure } from "./results.ts";
import { type Answer, chosenModes, inEachMode, type SolvedMode } from "./run.ts";

export interface HissConditions extends ResponseConditions {
  /** The band that levels refer to; 20 Hz to 20 kHz if not given. */
  readonly band?: Band;
  /** Where densities are wanted, Hz. */
  readonly hertz?: readonly number[];
  /**
   * EMFs at 1 kHz that signal-to-noise ratios refer to, V rms, by source; of a head what the reference flux
   * gives. A generator's own EMF serves where none is given.
   */
  readonly emf?: Readonly<Record<string, number>>;
}

/** The noise of each path asked for in each of its modes. */
export function hiss(circuit: Circuit, conditions: HissConditions = {}): Answer<PathHiss> {
  const paths = circuit.paths.filter(({ name }) => conditions.paths?.includes(name) ?? true);
  const modes = chosenModes(circuit, conditions)
    .map(({ name }) => name)
    .filter((mode) => paths.some((path) => runsIn(path, mode)));
  return inEachMode(circuit, { ...conditions, modes }, (solved) => {
    const own = paths.filter((path) => runsIn(path, solved.mode.name));
    const growing = growingFrequencies(pencilOf(new SmallSignal(solved.point)));
    const unsound = growing.length > 0 && { growing_hertz: growing.map(({ im }) => im / (2 * Math.PI)) };
    const found = own.map((path) => hissOf(solved, path, conditions));
    return {
      results: found.flatMap((one) => ("path" in one ? [{ ...one, ...unsound }] : [])),
      failures: found.filter((one): one is Failure => !("path" in one)),
    };
  });
}

function hissOf(solved: SolvedMode, path: SignalPath, { band, hertz, emf }: HissConditions) {
  const source = solved.circuit.parts.find(({ name }) => name === path.from);
  const signal = emf?.[path.from] ?? source?.values.emf ?? 0;
  return pathHiss(solved, path, {
    band: band ?? AUDIBLE,
    ...(hertz !== undefined && { hertz }),
    ...(signal > 0 && { emf: signal }),
  });
}
