import { gather } from "./devices.ts";
import type { Network } from "./network.ts";

/** For each part, the direct current into each of its pins, A. */
export function pinCurrents(network: Network, state: Float64Array): Float64Array[] {
  const { circuit, stamps, devices } = network;
  const currents = circuit.parts.map((part) => new Float64Array(part.pins.length));
  const { start, local, column, value } = stamps.g;
  currents.forEach((into, k) => {
    for (let e = start[k]!; e < start[k + 1]!; e++) {
      const pin = local[e]!;
      if (pin < into.length) into[pin]! += value[e]! * state[column[e]!]!;
    }
  });
  for (const placed of devices) {
    gather(placed, state);
    placed.device.evaluate(placed.x, placed.load);
    const into = currents[placed.part]!;
    for (let pin = 0; pin < into.length; pin++) into[pin]! += placed.load.current[pin]!;
  }
  return currents;
}

/** Kirchhoff's current law at every net. */
export interface KirchhoffCheck {
  /** Largest residual of any net, A. */
  readonly residual: number;
  /** The net with the largest excess over what is allowed, if any has one. */
  readonly worstNet?: number;
}

/** Residuals, with the current of a meter. Allowed: 1 pA, and 1e-9 of the largest current into the net. */
export function checkKirchhoff(
  { circuit }: Network,
  currents: readonly Float64Array[],
  meter: { readonly net: number; readonly amps: number },
): KirchhoffCheck {
  const sum = new Float64Array(circuit.nets.length);
  const largest = new Float64Array(circuit.nets.length);
  circuit.parts.forEach((part, k) => {
    part.pins.forEach(({ net }, pin) => {
      const amps = currents[k]![pin]!;
      sum[net]! += amps;
      largest[net] = Math.max(largest[net]!, Math.abs(amps));
    });
  });
  sum[meter.net]! += meter.amps;
  largest[meter.net] = Math.max(largest[meter.net]!, Math.abs(meter.amps));
  let residual = 0;
  let excess = 0;
  let worstNet: number | undefined;
  for (let net = 1; net < sum.length; net++) {
    const left = Math.abs(sum[net]!);
    residual = Math.max(residual, left);
    const over = left / (1e-12 + 1e-9 * largest[net]!);
    if (!(over <= Math.max(1, excess))) {
      excess = over;
      worstNet = net;
    }
  }
  return { residual, ...(worstNet !== undefined && { worstNet }) };
}
