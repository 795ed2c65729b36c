import type { Device, Load } from "../../parts/kind.ts";
import { gather, type PlacedDevice } from "../devices.ts";
import type { PairMemory } from "../kernel/pair-memory.ts";
import type { ElectricalSlots } from "../slots.ts";

/** A device's currents and charges at one of the two points, and the local unknowns they were taken at. */
interface Taken {
  readonly x: Float64Array;
  readonly currents: Load;
  readonly charges: Load;
}

/** A device with the places of what it adds, those in known rows and columns left out. */
interface PlacedLoad {
  readonly device: () => Device;
  /** What it remembers of the last tempered step. */
  readonly memory: Float64Array;
  readonly taken: readonly [Taken, Taken];
  /** Local numbers of its electrical unknowns, and their numbers. */
  readonly local: Int32Array;
  readonly unknown: Int32Array;
  /** Places in its squares of slopes and of capacitances, and the slots that they go to. */
  readonly slopeAt: Int32Array;
  readonly slopeSlot: Int32Array;
  readonly chargeAt: Int32Array;
  readonly chargeSlot: Int32Array;
}

/** A junction that has moved by no more than this, V, is as its tangent says: to 1e-11 V. */
const STILL = 1e-6;

/** Adds the currents, charges and slopes of the devices to what the linear parts have left in a memory. */
export class PlacedLoads {
  readonly #loads: readonly PlacedLoad[];
  readonly #memory: PairMemory;
  /** Slots that a device writes to. */
  readonly #slopeSlots: Int32Array;
  readonly #chargeSlots: Int32Array;

  /** `state` has what is known: chassis, and temperatures that stay as they are. */
  constructor(
    devices: readonly PlacedDevice[],
    slots: ElectricalSlots,
    memory: PairMemory,
    size: number,
    state: Float64Array,
  ) {
    this.#memory = memory;
    this.#loads = devices.map((placed, d) => {
      const local = Int32Array.from([...placed.locals.keys()].filter((k) => placed.locals[k]! < size));
      const unknown = local.map((k) => placed.locals[k]!);
      const [slopeAt, slopeSlot] = present(slots.slopes[d]!);
      const [chargeAt, chargeSlot] = present(slots.charges[d]!);
      gather(placed, state);
      const taken = [takenBy(placed), takenBy(placed)] as const;
      const places = { slopeAt, slopeSlot, chargeAt, chargeSlot };
      return { device: () => placed.device, memory: placed.memory, taken, local, unknown, ...places };
    });
    const all = (lists: Int32Array[]) => Int32Array.from(new Set(lists.flatMap((list) => [...list])));
    this.#slopeSlots = all(this.#loads.map(({ slopeSlot }) => slopeSlot));
    this.#chargeSlots = all(this.#loads.map(({ chargeSlot }) => chargeSlot));
  }

  /** Evaluates all devices at one point; returns whether all took a tempered step whole. */
  add(point: 0 | 1, tempered = false): boolean {
    const { g, c, linearG, linearC } = this.#memory;
    const [slopes, charges] = [this.#slopeSlots, this.#chargeSlots];
    for (let e = 0; e < slopes.length; e++) g[3 * slopes[e]! + 2 * point] = linearG[slopes[e]!]!;
    for (let e = 0; e < charges.length; e++) c[2 * charges[e]! + point] = linearC[charges[e]!]!;
    let whole = true;
    for (let d = 0; d < this.#loads.length; d++) {
      const load = this.#loads[d]!;
      this.#look(load, point);
      if (!evaluate(load, point, tempered)) whole = false;
      this.#put(load, point, 1);
    }
    return whole;
  }

  /** After F and q have been carried along by their slopes: puts right what bends. */
  bend(point: 0 | 1): void {
    for (let d = 0; d < this.#loads.length; d++) {
      const load = this.#loads[d]!;
      if (this.#moved(load, point) <= STILL) continue;
      this.#takeTangent(load, point);
      this.#put(load, point, -1);
      this.#look(load, point);
      evaluate(load, point, false);
      this.#put(load, point, 1);
    }
  }

  /** Reads the device's unknowns. */
  #look({ taken, local, unknown }: PlacedLoad, point: 0 | 1): void {
    const { x } = taken[point];
    const { x: values } = this.#memory;
    for (let k = 0; k < local.length; k++) x[local[k]!] = values[2 * unknown[k]! + point]!;
  }

  /** How far a device's unknowns have moved since it was evaluated. */
  #moved({ taken, local, unknown }: PlacedLoad, point: 0 | 1): number {
    const { x } = taken[point];
    const { x: values } = this.#memory;
    let largest = 0;
    for (let k = 0; k < local.length; k++) {
      const moved = Math.abs(values[2 * unknown[k]! + point]! - x[local[k]!]!);
      if (!(moved <= largest)) largest = moved;
    }
    return largest;
  }

  /** Currents and charges as the tangents have them where the unknowns are now. */
  #takeTangent({ taken, local, unknown }: PlacedLoad, point: 0 | 1): void {
    const { x, currents, charges } = taken[point];
    const { x: values } = this.#memory;
    const size = x.length;
    for (let m = 0; m < local.length; m++) {
      const column = local[m]!;
      const moved = values[2 * unknown[m]! + point]! - x[column]!;
      if (moved === 0) continue;
      for (let k = 0; k < local.length; k++) {
        const row = local[k]!;
        currents.current[row]! += currents.slope[row * size + column]! * moved;
        charges.current[row]! += charges.slope[row * size + column]! * moved;
      }
    }
  }

  /** Adds what a device has (sign 1) to F, q and slopes, or takes it away (−1). */
  #put(load: PlacedLoad, point: 0 | 1, sign: 1 | -1): void {
    const { taken, local, unknown, slopeAt, slopeSlot, chargeAt, chargeSlot } = load;
    const { currents, charges } = taken[point];
    const { f, q, g, c } = this.#memory;
    for (let k = 0; k < local.length; k++) {
      const to = 2 * unknown[k]! + point;
      f[to]! -= sign * currents.current[local[k]!]!;
      q[to]! += sign * charges.current[local[k]!]!;
    }
    for (let e = 0; e < slopeAt.length; e++)
      g[3 * slopeSlot[e]! + 2 * point]! += sign * currents.slope[slopeAt[e]!]!;
    for (let e = 0; e < chargeAt.length; e++)
      c[2 * chargeSlot[e]! + point]! += sign * charges.slope[chargeAt[e]!]!;
  }

  /** Gives the middle the slopes of the end. */
  alike(): void {
    const { g, c } = this.#memory;
    for (const s of this.#slopeSlots) g[3 * s] = g[3 * s + 2]!;
    for (const s of this.#chargeSlots) c[2 * s] = c[2 * s + 1]!;
  }
}

function evaluate({ device, memory, taken }: PlacedLoad, point: 0 | 1, tempered: boolean): boolean {
  const { x, currents, charges } = taken[point];
  const whole = device().evaluate(x, currents, tempered ? memory : undefined);
  device().charges(x, charges);
  return whole;
}

const takenBy = ({ x, load }: PlacedDevice): Taken => {
  const own = () => ({ current: load.current.slice(), slope: load.slope.slice() });
  return { x: x.slice(), currents: own(), charges: own() };
};

/** Places of a square that have a slot, and their slots. */
function present(slots: Int32Array): [Int32Array, Int32Array] {
  const at = Int32Array.from([...slots.keys()].filter((k) => slots[k]! >= 0));
  return [at, at.map((k) => slots[k]!)];
}
