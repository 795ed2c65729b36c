import { SmallSignal } from "../../engine/small-signal.ts";
import type { Entries } from "../../engine/stamps.ts";
import type { SolvedMode } from "../run.ts";

/** A part cut out passes this share of its current still, so that no net is left without any hold. */
const TRACE = 1e-9;

/**
 * A solved mode from which one part after another can be cut for signals. The operating point stays what it
 * was, and so do pattern and order of the equations. Only for parts without equations of a device.
 */
export class Workpiece {
  readonly solved: SolvedMode;
  readonly smallSignal: SmallSignal;

  constructor(solved: SolvedMode) {
    const { network } = solved.point;
    const { g, c } = network.stamps;
    const stamps = { ...network.stamps, g: copied(g), c: copied(c) };
    const point = { ...solved.point, network: { ...network, stamps } };
    this.solved = { ...solved, point };
    this.smallSignal = new SmallSignal(point);
  }

  /** What `ask` answers while the part with this index is cut out. */
  without<Result>(part: number, ask: () => Result): Result {
    const { state, network } = this.solved.point;
    const { g, c } = network.stamps;
    const pins = network.circuit.parts[part]!.pins.length;
    const mend = [g, c].map((entries) => cut(entries, part, pins));
    this.smallSignal.linearise(state);
    const result = ask();
    for (const restore of mend) restore();
    this.smallSignal.linearise(state);
    return result;
  }
}

const copied = (entries: Entries): Entries => ({ ...entries, value: entries.value.slice() });

/** Scales down what makes a current flow at the pins of a part; returns how to undo it. */
function cut({ value, local, start }: Entries, part: number, pins: number): () => void {
  const [from, to] = [start[part]!, start[part + 1]!];
  const before = value.slice(from, to);
  for (let e = from; e < to; e++) if (local[e]! < pins) value[e]! *= TRACE;
  return () => value.set(before, from);
}
