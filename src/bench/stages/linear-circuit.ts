import type { SolvedPoint } from "../../engine/operating-point.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import { sampleParameters } from "../../parts/transistor.ts";
import { minus, type Phasor } from "./phasor.ts";

/** Local numbers of a transistor's pins. */
export const EMITTER = 0;
export const BASE = 1;
export const COLLECTOR = 2;

/** A transistor among the linear parts: its nodes by state number, and its slopes. */
export interface PlacedTransistor {
  readonly name: string;
  /** Index into `Circuit.parts`. */
  readonly part: number;
  /** Nodes of emitter, base and collector pin, and of b′. */
  readonly nodes: readonly [emitter: number, base: number, collector: number];
  readonly inner: number;
  /** Local number of b′. */
  readonly innerLocal: number;
  /** Transconductance: the part of y_cb′ that has no counterpart in y_b′c, S. */
  readonly gm: number;
  /** 1/(gm + g_b′e), Ω: what is called 26 mV/I_E. */
  readonly re: number;
  /** Between collector and emitter, S. */
  readonly outputSiemens: number;
  readonly baseOhms: number;
}

/** A current driven into nodes from outside, A by state number. */
export type Drive = readonly (readonly [node: number, amps: number])[];

/**
 * A mode's circuit linearised twice: as it works, and with the transconductance generators of all its
 * transistors at rest, so that what is left passes signals but does not amplify.
 */
export class LinearCircuit {
  readonly point: SolvedPoint;
  /** Those whose generators rest. */
  readonly transistors: readonly PlacedTransistor[];
  readonly serving: readonly PlacedTransistor[];
  readonly #working: SmallSignal;
  readonly #resting: SmallSignal;

  /** `serving` transistors (supply filters) work on in the circuit at rest, as part of the supply. */
  constructor(point: SolvedPoint, serving: (transistor: PlacedTransistor) => boolean = () => false) {
    this.point = point;
    this.#working = new SmallSignal(point);
    this.#resting = new SmallSignal(point);
    const all = point.network.circuit.parts.flatMap((part, k) =>
      part.kind === "transistor" ? [this.#place(k)] : [],
    );
    this.serving = all.filter(serving);
    this.transistors = all.filter((transistor) => !serving(transistor));
    for (const transistor of this.transistors) quieten(this.#resting, transistor, -1);
  }

  #place(part: number): PlacedTransistor {
    const { circuit, unknowns } = this.point.network;
    const locals = unknowns.locals[part]!;
    const { baseResistance } = sampleParameters(circuit.parts[part]!, circuit);
    const innerLocal = baseResistance > 0 ? 3 : BASE;
    const slope = this.#working.slope(part)!;
    const n = Math.sqrt(slope.length);
    const between = (row: number, column: number) => slope[row * n + column]!;
    const gm = between(COLLECTOR, innerLocal) - between(innerLocal, COLLECTOR);
    return {
      name: circuit.parts[part]!.name,
      part,
      nodes: [locals[EMITTER]!, locals[BASE]!, locals[COLLECTOR]!],
      inner: locals[innerLocal]!,
      innerLocal,
      gm,
      re: 1 / (gm - between(innerLocal, EMITTER)),
      outputSiemens: between(COLLECTOR, COLLECTOR) + between(innerLocal, COLLECTOR),
      baseOhms: baseResistance,
    };
  }

  /** Tunes both to `hertz`. Returns false where something is determined by nothing. */
  tune(hertz: number): boolean {
    return this.#working.tune(hertz) === undefined && this.#resting.tune(hertz) === undefined;
  }

  /** Tunes the circuit at rest only. */
  tuneResting(hertz: number): boolean {
    return this.#resting.tune(hertz) === undefined;
  }

  /** The working circuit with currents driven into nodes. */
  working(drive: Drive): SmallSignal {
    this.#working.driveCurrents(drive);
    return this.#working;
  }

  /** The working circuit with 1 V of EMF in the source of this index. */
  fromSource(part: number): SmallSignal {
    this.#working.drive(part);
    return this.#working;
  }

  /** The circuit with its transconductances at rest and 1 V of EMF in the source of this index. */
  restingSource(part: number): SmallSignal {
    this.#resting.drive(part);
    return this.#resting;
  }

  /** The circuit with all transconductances at rest. */
  resting(drive: Drive): SmallSignal {
    this.#resting.driveCurrents(drive);
    return this.#resting;
  }

  /** What `ask` finds in the working circuit with the generators of some transistors at rest. */
  without<Found>(transistors: readonly PlacedTransistor[], hertz: number, ask: () => Found): Found {
    for (const transistor of transistors) quieten(this.#working, transistor, -1);
    this.#working.tune(hertz);
    const found = ask();
    for (const transistor of transistors) quieten(this.#working, transistor, 1);
    this.#working.tune(hertz);
    return found;
  }
}

/** Adds `sign` times the transistor's generator gm·v_b′e, from collector to emitter, to the matrix. */
function quieten(smallSignal: SmallSignal, { part, gm, innerLocal }: PlacedTransistor, sign: 1 | -1): void {
  const siemens = sign * gm;
  smallSignal.adjustSlope(part, COLLECTOR, innerLocal, siemens);
  smallSignal.adjustSlope(part, COLLECTOR, EMITTER, -siemens);
  smallSignal.adjustSlope(part, EMITTER, innerLocal, -siemens);
  smallSignal.adjustSlope(part, EMITTER, EMITTER, siemens);
}

/** Voltage that controls a transistor's generator. */
export const controlVoltage = (solved: SmallSignal, { inner, nodes }: PlacedTransistor): Phasor =>
  minus(solved.at(inner), solved.at(nodes[EMITTER]));

/** One ampere of a transistor's generator: out of the collector's node, into the emitter's. */
export const generatorDrive = ({ nodes }: PlacedTransistor): Drive => [
  [nodes[COLLECTOR], -1],
  [nodes[EMITTER], 1],
];
