/** Gain at 1 kHz and half-power points of paths. */
import type { SignalPath } from "../../circuit/circuit.ts";
import { type Phasor, SmallSignal } from "../../engine/small-signal.ts";
import { halfPower, REFERENCE } from "../half-power.ts";
import { reader } from "../output.ts";
import { decibels } from "../response.ts";
import type { SolvedMode } from "../run.ts";
import type { PathFigures } from "./results.ts";

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
    const low = halfPower(gain, reference, "lower");
    const high = halfPower(gain, reference, "upper");
    return {
      quantity,
      gain_db: reference,
      ...(low !== undefined && { low_hertz: low }),
      ...(high !== undefined && { high_hertz: high }),
    };
  }
}
