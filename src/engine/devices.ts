import type { Circuit } from "../circuit/circuit.ts";
import { kindOf } from "../parts/index.ts";
import type { Device, Load, Surroundings } from "../parts/kind.ts";
import type { Unknowns } from "./unknowns.ts";

/** A nonlinear device in its place: what it reads, writes, and remembers between Newton steps. */
export interface PlacedDevice {
  device: Device;
  /** Index into `Circuit.parts`. */
  readonly part: number;
  /** State numbers of its local unknowns. */
  readonly locals: Int32Array;
  readonly x: Float64Array;
  readonly load: Load;
  readonly memory: Float64Array;
}

/** Builds the devices of all parts that have nonlinear equations. */
export function placeDevices(
  circuit: Circuit,
  unknowns: Unknowns,
  surroundings: Surroundings,
): PlacedDevice[] {
  return circuit.parts.flatMap((part, k) => {
    const device = kindOf(part).equations?.(part, surroundings);
    if (device === undefined) return [];
    const { size, junctions } = device;
    return {
      device,
      part: k,
      locals: unknowns.locals[k]!,
      x: new Float64Array(size),
      load: { current: new Float64Array(size), slope: new Float64Array(size * size) },
      memory: new Float64Array(junctions),
    };
  });
}

/** Reads the device's local unknowns from a state. */
export function gather(placed: PlacedDevice, state: Float64Array): void {
  const { locals, x } = placed;
  for (let k = 0; k < x.length; k++) x[k] = state[locals[k]!]!;
}
