import { gather, type PlacedDevice } from "../devices.ts";
import type { DevicePlaces, Taken } from "../kernel/load-places.ts";
import type { PairMemory } from "../kernel/pair-memory.ts";
import type { ElectricalSlots } from "../slots.ts";

/** Devices are looked at again when their tangents are off by more than this share of what a step may be off. */
const SHARE = 0.02;
/** What says nothing of how it bends is taken to bend over so much, V. */
const BEND = 0.05;

const NOWHERE = -1;

/** Where the devices add to the system of the electrical unknowns, the known ones left out. */
export const devicePlaces = (
  devices: readonly PlacedDevice[],
  slots: ElectricalSlots,
  size: number,
): DevicePlaces[] =>
  devices.map(({ device, locals }, d) => {
    const local = Int32Array.from([...locals.keys()].filter((k) => locals[k]! < size));
    const unknown = local.map((k) => locals[k]!);
    const [slopeAt, slopeSlot] = present(slots.slopes[d]!);
    const [chargeAt, chargeSlot] = present(slots.charges[d]!);
    const bends = device.bends ?? [...local].map((k) => [k, NOWHERE] as const);
    return { size: device.size, local, unknown, slopeAt, slopeSlot, chargeAt, chargeSlot, bends };
  });

/** Places of a square that have a slot, and their slots. */
function present(slots: Int32Array): [Int32Array, Int32Array] {
  const at = Int32Array.from([...slots.keys()].filter((k) => slots[k]! >= 0));
  return [at, at.map((k) => slots[k]!)];
}

/** The devices of a network at the two points of a step. */
export class PlacedLoads {
  readonly #devices: readonly PlacedDevice[];
  readonly #places: readonly DevicePlaces[];
  readonly #memory: PairMemory;

  /** `state` has what is known: chassis, and temperatures that stay as they are. */
  constructor(
    devices: readonly PlacedDevice[],
    places: readonly DevicePlaces[],
    memory: PairMemory,
    state: Float64Array,
  ) {
    this.#devices = devices;
    this.#places = places;
    this.#memory = memory;
    devices.forEach((placed, d) => {
      gather(placed, state);
      for (const { x, perVolt } of memory.taken[d]!) {
        x.set(placed.x);
        perVolt.fill(1 / BEND);
      }
    });
  }

  /** Looks at all devices at one point; returns whether all took a tempered step whole. */
  look(point: 0 | 1, tempered = false): boolean {
    let whole = true;
    for (let d = 0; d < this.#devices.length; d++)
      if (!this.#lookAt(d, this.#memory.taken[d]![point]!, point, tempered)) whole = false;
    return whole;
  }

  /** Looks again, at both points, at the devices that `moved` too far for their tangents. */
  lookAgain(): void {
    const { bends, taken } = this.#memory;
    for (let k = 0; k < bends.length; k++) {
      const point = k & 1 ? 1 : 0;
      if (bends[k]! > SHARE) this.#lookAt(k >> 1, taken[k >> 1]![point]!, point, false);
    }
  }

  #lookAt(
    d: number,
    { x, moved, perVolt, currents, charges }: Taken,
    point: 0 | 1,
    tempered: boolean,
  ): boolean {
    const { local, unknown } = this.#places[d]!;
    const { device, memory } = this.#devices[d]!;
    const { x: values } = this.#memory;
    for (let m = 0; m < local.length; m++) {
      const k = local[m]!;
      x[k] = values[2 * unknown[m]! + point]!;
      moved[k] = 0;
    }
    const whole = device.evaluate(x, currents, tempered ? memory : undefined);
    device.charges(x, charges);
    device.bend?.(x, perVolt);
    return whole;
  }

  /** Gives the middle what the end has. */
  alike(): void {
    for (const [middle, end] of this.#memory.taken as readonly (readonly [Taken, Taken])[]) {
      for (const key of ["x", "moved", "perVolt"] as const) middle[key].set(end[key]);
      for (const key of ["currents", "charges"] as const) {
        middle[key].current.set(end[key].current);
        middle[key].slope.set(end[key].slope);
      }
    }
  }
}
