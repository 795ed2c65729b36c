import { gather } from "./devices.ts";
import type { Network } from "./network.ts";

/** The direct current into each pin of each part, A. */
export interface PinCurrents {
  /** Part by part, pins in order. */
  readonly amps: Float64Array;
  /** Where each part's pins begin (index into `Circuit.parts`). */
  readonly start: Int32Array;
}

/** Current into one pin of a part, A. */
export const currentInto = ({ amps, start }: PinCurrents, part: number, pin: number): number =>
  amps[start[part]! + pin] ?? 0;

/** Kirchhoff's current law at every net. */
export interface KirchhoffCheck {
  /** Largest residual of any net, A. */
  readonly residual: number;
  /** The net with the largest excess over what is allowed, if any has one. */
  readonly worstNet?: number;
}

/** Adds up the currents into the pins of a network; the places are worked out once. */
export class CurrentMeter {
  readonly #network: Network;
  readonly #start: Int32Array;
  readonly #netOfPin: Int32Array;
  /** Entries of the linear stamps that lie in a pin's row, and the place of that pin. */
  readonly #entry: Int32Array;
  readonly #place: Int32Array;
  readonly #sum: Float64Array;
  readonly #largest: Float64Array;

  constructor(network: Network) {
    const { circuit, stamps } = network;
    this.#network = network;
    this.#start = new Int32Array(circuit.parts.length + 1);
    circuit.parts.forEach(({ pins }, k) => {
      this.#start[k + 1] = this.#start[k]! + pins.length;
    });
    this.#netOfPin = Int32Array.from(circuit.parts.flatMap(({ pins }) => pins.map(({ net }) => net)));
    const entries: number[] = [];
    const places: number[] = [];
    const { start, local } = stamps.g;
    circuit.parts.forEach(({ pins }, k) => {
      for (let e = start[k]!; e < start[k + 1]!; e++) {
        if (local[e]! >= pins.length) continue;
        entries.push(e);
        places.push(this.#start[k]! + local[e]!);
      }
    });
    this.#entry = Int32Array.from(entries);
    this.#place = Int32Array.from(places);
    this.#sum = new Float64Array(circuit.nets.length);
    this.#largest = new Float64Array(circuit.nets.length);
  }

  /** The currents at a state. */
  read(state: Float64Array): PinCurrents {
    const { stamps, devices } = this.#network;
    const { column, value } = stamps.g;
    const start = this.#start;
    const amps = new Float64Array(this.#netOfPin.length);
    for (let k = 0; k < this.#entry.length; k++) {
      const e = this.#entry[k]!;
      amps[this.#place[k]!]! += value[e]! * state[column[e]!]!;
    }
    for (const placed of devices) {
      gather(placed, state);
      placed.device.evaluate(placed.x, placed.load);
      const first = start[placed.part]!;
      const pins = start[placed.part + 1]! - first;
      for (let pin = 0; pin < pins; pin++) amps[first + pin]! += placed.load.current[pin]!;
    }
    return { amps, start };
  }

  /**
   * Residuals of the currents and that of a meter from one net to chassis. Allowed: 1 pA, and 1e-9 of the
   * largest current into the net.
   */
  check({ amps }: PinCurrents, meter: { readonly net: number; readonly amps: number }): KirchhoffCheck {
    const sum = this.#sum.fill(0);
    const largest = this.#largest.fill(0);
    sum[meter.net] = meter.amps;
    largest[meter.net] = Math.abs(meter.amps);
    for (let place = 0; place < amps.length; place++) {
      const net = this.#netOfPin[place]!;
      sum[net]! += amps[place]!;
      largest[net] = Math.max(largest[net]!, Math.abs(amps[place]!));
    }
    let residual = 0;
    let excess = 1;
    let worstNet: number | undefined;
    for (let net = 1; net < sum.length; net++) {
      const left = Math.abs(sum[net]!);
      residual = Math.max(residual, left);
      const over = left / (1e-12 + 1e-9 * largest[net]!);
      if (over <= excess) continue;
      excess = over;
      worstNet = net;
    }
    return { residual, ...(worstNet !== undefined && { worstNet }) };
  }
}
