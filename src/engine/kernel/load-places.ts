import { BYTES } from "./pair-places.ts";

/** Where a nonlinear device adds to a system. */
export interface DevicePlaces {
  /** Number of its local unknowns. */
  readonly size: number;
  /** Local numbers of those that are unknowns of the system, and their numbers there. */
  readonly local: Int32Array;
  readonly unknown: Int32Array;
  /** Places in its square of slopes, and slots that they go to; the same for capacitances. */
  readonly slopeAt: Int32Array;
  readonly slopeSlot: Int32Array;
  readonly chargeAt: Int32Array;
  readonly chargeSlot: Int32Array;
  /** Pairs of local numbers between which it bends; one of a pair may be −1, a place that does not move. */
  readonly bends: readonly (readonly [number, number])[];
}

/** Addresses in bytes of what a device has made of its local unknowns x at one point. */
export interface TakenPlaces {
  readonly x: number;
  readonly current: number;
  readonly slope: number;
  readonly charge: number;
  readonly capacitance: number;
  /** How far the unknowns have moved since. */
  readonly moved: number;
  /** How sharply it bends there, 1/V, by pair. */
  readonly perVolt: number;
  readonly end: number;
}

/** By device, for the middle and the end. */
export function takenPlaces(devices: readonly DevicePlaces[], from: number): readonly TakenPlaces[][] {
  let next = from;
  const room = (doubles: number) => {
    const at = next;
    next += doubles * BYTES;
    return at;
  };
  const one = ({ size, bends }: DevicePlaces): TakenPlaces => ({
    x: room(size),
    current: room(size),
    slope: room(size * size),
    charge: room(size),
    capacitance: room(size * size),
    moved: room(size),
    perVolt: room(bends.length),
    end: next,
  });
  return devices.map((device) => [one(device), one(device)]);
}

/** What a device has made of its local unknowns, in doubles. */
export interface Taken {
  readonly x: Float64Array;
  readonly moved: Float64Array;
  readonly perVolt: Float64Array;
  readonly currents: { readonly current: Float64Array; readonly slope: Float64Array };
  readonly charges: { readonly current: Float64Array; readonly slope: Float64Array };
}

export function takenIn(buffer: ArrayBuffer, { size, bends }: DevicePlaces, places: TakenPlaces): Taken {
  const doubles = (from: number, count: number) => new Float64Array(buffer, from, count);
  return {
    x: doubles(places.x, size),
    moved: doubles(places.moved, size),
    perVolt: doubles(places.perVolt, bends.length),
    currents: { current: doubles(places.current, size), slope: doubles(places.slope, size * size) },
    charges: { current: doubles(places.charge, size), slope: doubles(places.capacitance, size * size) },
  };
}
