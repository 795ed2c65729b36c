/** What becomes of a transmission when one part is opened, from solutions of the whole circuit at rest. */
import type { Circuit } from "../../circuit/circuit.ts";
import type { SmallSignal } from "../../engine/small-signal.ts";
import type { LinearCircuit } from "./linear-circuit.ts";
import { invert, type Matrix } from "./matrix.ts";
import { minus, type Phasor, plus, scaled, size, times, ZERO } from "./phasor.ts";

/** Kinds that pass or take signals; batteries, switches and transistors are not opened. */
const OPENABLE = new Set([
  "resistor",
  "potentiometer",
  "trimmer",
  "thermistor",
  "lamp",
  "capacitor",
  "electrolytic",
  "inductor",
  "transformer",
  "loudspeaker",
  "head",
  "diode",
]);

/** Keeps a part that is the only one at its net from asking for an infinite current. */
const TINY = 1e-9;

/** A part, and what outside currents at its pins do: from the last pin's net into each of the others. */
interface Openable {
  readonly part: number;
  readonly nodes: readonly number[];
  /** From its currents to the outside currents that cancel them. */
  readonly cancelling: Matrix;
  /** Voltage at each node listened to, for each of the outside currents. */
  readonly heard: ReadonlyMap<number, readonly Phasor[]>;
}

/** The circuit at rest at one frequency, with each part opened in turn. `nodes` are those listened to. */
export class OpenedParts {
  readonly #circuit: LinearCircuit;
  readonly #plain: Circuit;
  readonly #parts: readonly Openable[];

  /** Tunes the circuit at rest to `hertz`; it must stay so while questions are asked. */
  constructor(circuit: LinearCircuit, hertz: number, nodes: readonly number[]) {
    this.#circuit = circuit;
    this.#plain = circuit.point.network.circuit;
    circuit.tuneResting(hertz);
    this.#parts = this.#plain.parts.flatMap(({ kind }, part) =>
      OPENABLE.has(kind) ? [this.#openable(part, nodes)] : [],
    );
  }

  #openable(part: number, listened: readonly number[]): Openable {
    const { unknowns } = this.#circuit.point.network;
    const nodes = this.#plain.parts[part]!.pins.map(({ net }) => unknowns.net[net]!);
    const rest = nodes.slice(0, -1);
    const tests = rest.map((node) => {
      const test = this.#circuit.resting([
        [node, 1],
        [nodes.at(-1)!, -1],
      ]);
      return {
        heard: listened.map((each) => test.at(each)),
        pins: rest.map((_, pin) => test.pinCurrent(part, pin)),
      };
    });
    const rows = rest.map((_, q) =>
      tests.map(({ pins }, r) => minus(q === r ? { re: 1 + TINY, im: 0 } : ZERO, pins[q]!)),
    );
    const heard = new Map(listened.map((node, i) => [node, tests.map((test) => test.heard[i]!)]));
    return { part, nodes, cancelling: invert(rows).inverse, heard };
  }

  /**
   * Parts without which less than `share` of the transmission from one node to another is left: of the
   * ratio of the voltages there, for a current driven into the first.
   */
  bridging(from: number, to: number, share: number): readonly number[] {
    const solved = this.#circuit.resting([[from, 1]]);
    const ratio = (there: Phasor, here: Phasor) => size(there) / size(here);
    const whole = ratio(solved.at(to), solved.at(from));
    return this.#parts.flatMap((each) => {
      const there = plus(solved.at(to), this.#change(solved, each, to));
      const here = plus(solved.at(from), this.#change(solved, each, from));
      return ratio(there, here) < share * whole ? [each.part] : [];
    });
  }

  #change(solved: SmallSignal, { part, cancelling, heard }: Openable, to: number): Phasor {
    const own = cancelling.map((_, pin) => solved.pinCurrent(part, pin));
    const effects = heard.get(to) ?? [];
    return cancelling.reduce((sum, row, r) => {
      const amps = row.reduce((total, entry, q) => plus(total, times(entry, own[q]!)), ZERO);
      return plus(sum, times(amps, effects[r]!));
    }, ZERO);
  }

  /** Parts with more than this share in what 1 A into a net finds there: Σ v·i over pins (Tellegen). */
  sharing(node: number, share: number): readonly number[] {
    const solved = this.#circuit.resting([[node, 1]]);
    const whole = size(solved.at(node));
    return this.#parts.flatMap(({ part, nodes }) => {
      const sum = nodes.reduce(
        (total, each, pin) => plus(total, times(solved.at(each), solved.pinCurrent(part, pin))),
        ZERO,
      );
      return size(scaled(sum, 1 / whole)) > share ? [part] : [];
    });
  }
}
