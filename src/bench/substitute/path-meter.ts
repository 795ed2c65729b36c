/** Gain at 1 kHz and half-power points of paths, found to rounding rather than read off a table. */
import type { SignalPath } from "../../circuit/circuit.ts";
import { type Phasor, SmallSignal } from "../../engine/small-signal.ts";
import { reader } from "../output.ts";
import { decibels } from "../response.ts";
import type { SolvedMode } from "../run.ts";
import type { PathFigures } from "./results.ts";

const REFERENCE = 1000;
/** Between these the half-power points are looked for, Hz. */
const LOWEST = 1;
const HIGHEST = 1e8;
/** Step of the search, octaves: a narrower dip and rise is overlooked. */
const STEP = 1 / 4;
const HALF_POWER = 10 * Math.log10(2);
/** A gain of less is none. */
const SILENT = -390;

export const pathsIn = ({ circuit, mode }: SolvedMode): readonly SignalPath[] =>
  circuit.paths.filter((path) => path.mode === undefined || path.mode === mode.name);

/** Reads gains of one solved mode. */
export class PathMeter {
  readonly smallSignal: SmallSignal;
  readonly #solved: SolvedMode;

  constructor(solved: SolvedMode, smallSignal = new SmallSignal(solved.point)) {
    this.#solved = solved;
    this.smallSignal = smallSignal;
  }

  /** Gain in dB against frequency in Hz; nothing where the equations determine none. */
  gain(path: SignalPath): (hertz: number) => number | undefined {
    const source = this.#solved.circuit.parts.findIndex(({ name }) => name === path.from);
    const read: () => Phasor = reader(this.smallSignal, path);
    return (hertz) => {
      if (this.smallSignal.tune(hertz) !== undefined) return undefined;
      this.smallSignal.drive(source);
      return decibels(read());
    };
  }

  figures(path: SignalPath): PathFigures | undefined {
    const gain = this.gain(path);
    const reference = gain(REFERENCE);
    if (reference === undefined) return undefined;
    const quantity = "net" in path.to ? "voltage" : path.to.quantity;
    if (reference <= SILENT) return { quantity, gain_db: reference };
    const low = crossing(gain, reference - HALF_POWER, -STEP);
    const high = crossing(gain, reference - HALF_POWER, STEP);
    return {
      quantity,
      gain_db: reference,
      ...(low !== undefined && { low_hertz: low }),
      ...(high !== undefined && { high_hertz: high }),
    };
  }
}

/** Where the gain, going from 1 kHz in steps of so many octaves, first falls to `level`, Hz. */
function crossing(
  gain: (hertz: number) => number | undefined,
  level: number,
  octaves: number,
): number | undefined {
  let inside = REFERENCE;
  for (;;) {
    const outside = inside * 2 ** octaves;
    if (outside < LOWEST || outside > HIGHEST) return undefined;
    const found = gain(outside);
    if (found === undefined) return undefined;
    if (found <= level) return bisected(gain, level, inside, outside);
    inside = outside;
  }
}

/** Halvings that leave a frequency at a part in 10¹². */
const HALVINGS = 38;

function bisected(
  gain: (hertz: number) => number | undefined,
  level: number,
  from: number,
  to: number,
): number {
  let [inside, outside] = [from, to];
  for (let k = 0; k < HALVINGS; k++) {
    const middle = Math.sqrt(inside * outside);
    if ((gain(middle) ?? level) <= level) outside = middle;
    else inside = middle;
  }
  return Math.sqrt(inside * outside);
}
