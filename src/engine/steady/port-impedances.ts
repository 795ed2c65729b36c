import { gather } from "../devices.ts";
import { HOLD, type Network } from "../network.ts";
import type { SolvedPoint } from "../operating-point.ts";
import { DenseLu } from "./dense-lu.ts";

/** Tangents of a device at the operating point, local square: conductances and capacitances. */
export interface Tangents {
  readonly slope: Float64Array;
  readonly capacitance: Float64Array;
}

/** A complex number for each unknown: cosine parts, then sine parts. */
type Wave = Float64Array;

/** The circuit linearised at an operating point, seen from its nonlinear devices, at one frequency. */
interface Harmonic {
  /** What one ampere into each port, as a cosine, makes of every unknown. */
  readonly ofPort: readonly Wave[];
}

/**
 * The linear circuit around the nonlinear devices, at direct current and so many harmonics. Ports are the
 * unknowns that devices act on; with the devices' tangents at the operating point the circuit is the one of
 * the small signal, which always has a solution.
 */
export class PortImpedances {
  /** Unknown behind each port. */
  readonly ports: readonly number[];
  readonly tangents: readonly Tangents[];
  /** What one volt of the source, as a sine, makes of every unknown at the fundamental. */
  readonly ofSource: Wave;
  readonly size: number;
  readonly #harmonics: readonly Harmonic[];
  readonly #g: Float64Array;
  readonly #c: Float64Array;
  readonly #network: Network;

  /** `source` is an index into `Circuit.parts`; `omega` in rad/s. */
  constructor({ network, state }: SolvedPoint, source: number, omega: number, harmonics: number) {
    const n = network.unknowns.electrical;
    this.#network = network;
    this.size = n;
    this.tangents = network.devices.map((placed) => {
      gather(placed, state);
      placed.device.evaluate(placed.x, placed.load);
      const slope = placed.load.slope.slice();
      placed.device.charges(placed.x, placed.load);
      return { slope, capacitance: placed.load.slope.slice() };
    });
    const touched = network.devices.flatMap(({ locals }) => [...locals].filter((unknown) => unknown < n));
    this.ports = [...new Set(touched)].sort((a, b) => a - b);
    this.#g = this.#dense("g", "slope");
    this.#c = this.#dense("c", "capacitance");
    const { start, row, value } = network.stamps.signal;
    const emf = new Float64Array(2 * n);
    for (let e = start[source]!; e < start[source + 1]!; e++) if (row[e]! < n) emf[n + row[e]!]! += value[e]!;
    let ofSource: Wave = emf;
    this.#harmonics = Array.from({ length: harmonics + 1 }, (_, k) => {
      const lu = this.#factored(k * omega);
      if (k === 1) ofSource = lu.solve(emf);
      return { ofPort: this.ports.map((port) => this.#driven(lu, port, k)) };
    });
    this.ofSource = ofSource;
  }

  /** Linear part and tangents together, n × n. */
  #dense(stamp: "g" | "c", tangent: keyof Tangents): Float64Array {
    const n = this.size;
    const dense = new Float64Array(n * n);
    const { row, column, value } = this.#network.stamps[stamp];
    for (let e = 0; e < row.length; e++)
      if (row[e]! < n && column[e]! < n) dense[row[e]! * n + column[e]!]! += value[e]!;
    this.#network.devices.forEach(({ locals, device: { size } }, d) => {
      const values = this.tangents[d]![tangent];
      for (let r = 0; r < size; r++)
        for (let c = 0; c < size; c++)
          if (locals[r]! < n && locals[c]! < n) dense[locals[r]! * n + locals[c]!]! += values[r * size + c]!;
    });
    return dense;
  }

  /** G alone at direct current; else (G, ωC; −ωC, G) over cosines and sines. */
  #factored(omega: number): DenseLu {
    const n = this.size;
    const { freeAtDc, freeAtAc } = this.#network;
    const wide = omega === 0 ? n : 2 * n;
    const matrix = new Float64Array(wide * wide);
    for (let r = 0; r < n; r++)
      for (let c = 0; c < n; c++) {
        const g = this.#g[r * n + c]!;
        matrix[r * wide + c] = g;
        if (omega === 0) continue;
        matrix[(n + r) * wide + n + c] = g;
        matrix[r * wide + n + c] = omega * this.#c[r * n + c]!;
        matrix[(n + r) * wide + c] = -omega * this.#c[r * n + c]!;
      }
    for (const node of (omega === 0 ? freeAtDc : freeAtAc).held)
      for (let at = node; at < wide; at += n) matrix[at * wide + at]! += HOLD;
    return new DenseLu(wide, matrix);
  }

  #driven(lu: DenseLu, port: number, harmonic: number): Wave {
    const n = this.size;
    const wave = new Float64Array(2 * n);
    const amps = new Float64Array(harmonic === 0 ? n : 2 * n);
    amps[port] = 1;
    wave.set(lu.solve(amps));
    return wave;
  }

  /** Cosine part of what a cosine current into a port makes of an unknown; and its sine part. */
  cosine(harmonic: number, unknown: number, port: number): number {
    return this.#harmonics[harmonic]!.ofPort[port]![unknown]!;
  }

  sine(harmonic: number, unknown: number, port: number): number {
    return this.#harmonics[harmonic]!.ofPort[port]![this.size + unknown]!;
  }

  get harmonics(): number {
    return this.#harmonics.length - 1;
  }

  /** Greatest impedance between two ports over all harmonics, port by port. */
  greatest(): Float64Array {
    const { ports, harmonics } = this;
    const w = ports.length;
    const greatest = new Float64Array(w * w);
    for (let k = 0; k <= harmonics; k++)
      for (let to = 0; to < w; to++)
        for (let from = 0; from < w; from++) {
          const size = Math.hypot(this.cosine(k, ports[to]!, from), this.sine(k, ports[to]!, from));
          greatest[to * w + from] = Math.max(greatest[to * w + from]!, size);
        }
    return greatest;
  }

  /** Adds Z·amps to `into`, at the unknowns `to`, block by block. */
  addVoltages(amps: Float64Array, into: Float64Array, to: readonly number[]): void {
    const w = this.ports.length;
    for (let from = 0; from < w; from++)
      for (let k = 0; k <= this.harmonics; k++) {
        const cosine = amps[(k === 0 ? 0 : 2 * k - 1) * w + from]!;
        const sine = k === 0 ? 0 : amps[2 * k * w + from]!;
        if (cosine === 0 && sine === 0) continue;
        for (let p = 0; p < to.length; p++) {
          const zc = this.cosine(k, to[p]!, from);
          const zs = this.sine(k, to[p]!, from);
          into[(k === 0 ? 0 : 2 * k - 1) * to.length + p]! += zc * cosine - zs * sine;
          if (k > 0) into[2 * k * to.length + p]! += zs * cosine + zc * sine;
        }
      }
  }
}
