/** The independent sources of noise of a circuit, each with a name for people. */
import type { Circuit } from "../../circuit/circuit.ts";
import type { NoiseSource } from "../../engine/noise.ts";

/** A source of noise or, where it has a low-frequency excess, one of its two shares. */
export interface Strand {
  /** Index of the engine's source. */
  readonly source: number;
  /** Index into `Circuit.parts`. */
  readonly part: number;
  /** `dcr (thermal)`, `base current (excess)`. */
  readonly origin: string;
  /** What of the source's density it is, at a frequency in Hz. */
  readonly share: (hertz: number) => number;
}

/** Shot noise of the direct currents of devices; all else is thermal. */
const SHOT = ["collector current", "base current", "leakage", "current"];

function natureOf(kind: string, what: string): string {
  const device = kind === "transistor" || kind === "diode";
  return device && SHOT.includes(what) ? "shot" : "thermal";
}

/** The strands of the sources; white·(1 + corner/f) is two of them. */
export function strandsOf({ parts }: Circuit, sources: readonly NoiseSource[]): readonly Strand[] {
  return sources.flatMap(({ part, what, corner }, source): Strand[] => {
    const nature = natureOf(parts[part]?.kind ?? "", what);
    const white = { source, part, origin: `${what} (${nature})` };
    if (corner === 0) return [{ ...white, share: () => 1 }];
    return [
      { ...white, share: (hertz) => hertz / (hertz + corner) },
      { ...white, origin: `${what} (excess)`, share: (hertz) => corner / (hertz + corner) },
    ];
  });
}
