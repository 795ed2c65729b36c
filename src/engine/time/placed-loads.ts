import type { Load } from "../../parts/kind.ts";
import { gather, type PlacedDevice } from "../devices.ts";
import type { PairMemory } from "../kernel/pair-memory.ts";
import type { ElectricalSlots } from "../slots.ts";

/** A device with the places of what it adds, those in known rows and columns left out. */
interface PlacedLoad {
  readonly placed: PlacedDevice;
  /** Local unknowns, the known ones in place, and what the device makes of them. */
  readonly x: Float64Array;
  readonly load: Load;
  /** Local numbers of its electrical unknowns, and their numbers. */
  readonly local: Int32Array;
  readonly unknown: Int32Array;
  /** Places in its squares of slopes and of capacitances, and the slots that they go to. */
  readonly slopeAt: Int32Array;
  readonly slopeSlot: Int32Array;
  readonly chargeAt: Int32Array;
  readonly chargeSlot: Int32Array;
}

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
      const [slopeAt, slopeSlot] = present(slots.slopes[d]!);
      const [chargeAt, chargeSlot] = present(slots.charges[d]!);
      const unknown = local.map((k) => placed.locals[k]!);
      gather(placed, state);
      const x = placed.x.slice();
      const load = { current: placed.load.current.slice(), slope: placed.load.slope.slice() };
      return { placed, x, load, local, unknown, slopeAt, slopeSlot, chargeAt, chargeSlot };
    });
    const all = (lists: Int32Array[]) => Int32Array.from(new Set(lists.flatMap((list) => [...list])));
    this.#slopeSlots = all(this.#loads.map(({ slopeSlot }) => slopeSlot));
    this.#chargeSlots = all(this.#loads.map(({ chargeSlot }) => chargeSlot));
  }

  /** Evaluates all devices at one point; returns whether all took a tempered step whole. */
  add(point: 0 | 1, tempered = false): boolean {
    const { g, c, linearG, linearC } = this.#memory;
    for (const s of this.#slopeSlots) g[3 * s + 2 * point] = linearG[s]!;
    for (const s of this.#chargeSlots) c[2 * s + point] = linearC[s]!;
    let whole = true;
    for (const load of this.#loads) if (!this.#addOne(load, point, tempered)) whole = false;
    return whole;
  }

  #addOne(one: PlacedLoad, point: 0 | 1, tempered: boolean): boolean {
    const { placed, x, load, local, unknown, slopeAt, slopeSlot, chargeAt, chargeSlot } = one;
    const { device, memory } = placed;
    const { current, slope } = load;
    const { x: values, f, q, g, c } = this.#memory;
    for (let k = 0; k < local.length; k++) x[local[k]!] = values[2 * unknown[k]! + point]!;
    const whole = device.evaluate(x, load, tempered ? memory : undefined);
    for (let k = 0; k < local.length; k++) f[2 * unknown[k]! + point]! -= current[local[k]!]!;
    for (let e = 0; e < slopeAt.length; e++) g[3 * slopeSlot[e]! + 2 * point]! += slope[slopeAt[e]!]!;
    device.charges(x, load);
    for (let k = 0; k < local.length; k++) q[2 * unknown[k]! + point]! += current[local[k]!]!;
    for (let e = 0; e < chargeAt.length; e++) c[2 * chargeSlot[e]! + point]! += slope[chargeAt[e]!]!;
    return whole;
  }

  /** Gives the middle the slopes of the end. */
  alike(): void {
    const { g, c } = this.#memory;
    for (const s of this.#slopeSlots) g[3 * s] = g[3 * s + 2]!;
    for (const s of this.#chargeSlots) c[2 * s] = c[2 * s + 1]!;
  }
}

/** Places of a square that have a slot, and their slots. */
function present(slots: Int32Array): [Int32Array, Int32Array] {
  const at = Int32Array.from([...slots.keys()].filter((k) => slots[k]! >= 0));
  return [at, at.map((k) => slots[k]!)];
}
