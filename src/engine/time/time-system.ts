import { gather } from "../devices.ts";
import type { PointArrays } from "../kernel/pair-points.ts";
import { PairSystem } from "../kernel/pair-system.ts";
import { HOLD, type Network } from "../network.ts";
import { type ElectricalSlots, electricalSlots, scatter } from "../slots.ts";
import { columnScale } from "../unknowns.ts";
import { devicePlaces, PlacedLoads } from "./placed-loads.ts";

/** The two points of a step that are worked on side by side. */
export const MIDDLE = 0;
export const END = 1;
export type Point = typeof MIDDLE | typeof END;

/**
 * The circuit in time: dq/dt = F, with q(x) the charges and fluxes by row and F = sources − G·x − i(x), at
 * the middle and the end of a step side by side. Junction temperatures stay where they are. Unknowns are the
 * electrical ones; `pair.memory` holds their values, F and q, and the slopes.
 */
export class TimeSystem {
  readonly network: Network;
  readonly size: number;
  readonly pair: PairSystem;
  /** 1 for rows with a charge or flux: the others are algebraic. */
  readonly hasCharge: Uint8Array;
  /** 1 for unknowns that carry a charge or flux; the others follow from them. */
  readonly isStored: Uint8Array;
  /** Value of each signal source's EMF by part index, V; set before `evaluate`. */
  readonly emf: Float64Array;
  /** What lies behind the unknowns in a state: chassis, junction temperatures. */
  readonly #known: Float64Array;
  readonly #slots: ElectricalSlots;
  readonly #loads: PlacedLoads;
  readonly #supply: Float64Array;
  #pointsTaken = 0;
  /** Parts with an EMF, and whether one of them is at work at each point. */
  readonly #sources: readonly number[];
  readonly #driven: [boolean, boolean] = [true, true];

  constructor(network: Network, state: Float64Array) {
    this.network = network;
    const n = network.unknowns.electrical;
    this.#slots = electricalSlots(
      network,
      Array.from({ length: n }, (_, k) => k),
    );
    const { pattern, c, slopes, charges } = this.#slots;
    this.size = n;
    const marked = (lists: readonly Int32Array[]) => {
      const marks = new Uint8Array(pattern.row.length);
      for (const list of lists) for (const slot of list) if (slot >= 0) marks[slot] = 1;
      return marks;
    };
    const reactive = marked([c, ...charges]);
    this.hasCharge = new Uint8Array(n);
    this.isStored = new Uint8Array(n);
    for (const [slot, isReactive] of reactive.entries()) {
      if (isReactive === 0) continue;
      this.hasCharge[pattern.row[slot]!] = 1;
      this.isStored[pattern.column[slot]!] = 1;
    }
    const devices = devicePlaces(network.devices, this.#slots, n);
    const kinds = { bends: marked([...slopes, ...charges]), reactive, hasCharge: this.hasCharge, devices };
    const scale = columnScale(network.unknowns.list.slice(0, n));
    this.pair = new PairSystem(pattern, kinds, scale, "when it pays", state.length - n);
    this.emf = new Float64Array(network.circuit.parts.length);
    this.#supply = new Float64Array(n);
    const { start } = network.stamps.signal;
    this.#sources = [...this.emf.keys()].filter((part) => start[part + 1]! > start[part]!);
    this.#known = state.slice();
    this.#loads = new PlacedLoads(network.devices, devices, this.pair.memory, state);
    this.refresh();
  }

  /** A point in the memory that nobody has yet. */
  newPoint(): PointArrays {
    const point = this.pair.memory.points[this.#pointsTaken++];
    if (point === undefined) throw new Error("there is no room for another point in time");
    return point;
  }

  /** Takes over the network's values after parts were changed. */
  refresh(): void {
    const { stamps, freeAtAc, unknowns } = this.network;
    const { linearG, linearC, g, c } = this.pair.memory;
    linearG.fill(0);
    linearC.fill(0);
    scatter(linearG, this.#slots.g, stamps.g.value);
    scatter(linearC, this.#slots.c, stamps.c.value);
    for (const node of freeAtAc.held) linearG[this.#slots.diagonals[node]!]! += HOLD;
    for (let s = 0; s < linearG.length; s++) {
      g[3 * s] = g[3 * s + 2] = linearG[s]!;
      c[2 * s] = c[2 * s + 1] = linearC[s]!;
    }
    this.#driven.fill(true);
    this.#supply.fill(0);
    const { row, value } = stamps.supply;
    for (let e = 0; e < row.length; e++) if (row[e]! < this.size) this.#supply[row[e]!]! += value[e]!;
    // what acts from behind the unknowns stays as it is
    for (let e = 0; e < stamps.g.row.length; e++) {
      const [to, from] = [stamps.g.row[e]!, stamps.g.column[e]!];
      if (to < this.size && from >= unknowns.electrical)
        this.#supply[to]! -= stamps.g.value[e]! * this.#known[from]!;
    }
  }

  /**
   * Holds every node at its voltage in `state` by a conductance, S: for a continuation from there. `refresh`
   * lets go.
   */
  hold(siemens: number, state: Float64Array): void {
    this.refresh();
    const { linearG, g } = this.pair.memory;
    const { list } = this.network.unknowns;
    for (let k = 0; k < this.size; k++) {
      if (list[k]!.kind !== "node") continue;
      const s = this.#slots.diagonals[k]!;
      linearG[s]! += siemens;
      g[3 * s]! += siemens;
      g[3 * s + 2]! += siemens;
      this.#supply[k]! += siemens * state[k]!;
    }
  }

  /** Puts the sources of one point in place, EMFs as they stand in `emf`. */
  drive(point: Point): void {
    let sounds = false;
    for (let n = 0; n < this.#sources.length; n++) if (this.emf[this.#sources[n]!] !== 0) sounds = true;
    if (!sounds && !this.#driven[point]) return;
    this.#driven[point] = sounds;
    const { source } = this.pair.memory;
    const { start, row, value } = this.network.stamps.signal;
    for (let k = 0; k < this.size; k++) source[2 * k + point] = this.#supply[k]!;
    for (const part of this.#sources) {
      for (let e = start[part]!; e < start[part + 1]!; e++)
        if (row[e]! < this.size) source[2 * row[e]! + point]! += this.emf[part]! * value[e]!;
    }
  }

  /**
   * F and q of both points at the unknowns in `pair.memory`, after `move`. Only devices that have moved
   * too far for their tangents are looked at: those at rest keep them from step to step.
   */
  evaluate(): void {
    this.#loads.lookAgain();
    this.#sum();
  }

  /** Sees how far the devices have moved; returns the most that one is off its tangents, weighed. */
  move(): number {
    return this.pair.work.moved();
  }

  /** F and q after a last correction: all by their tangents. */
  carry(): void {
    this.#sum();
  }

  /** Factors the matrix with the slopes that the devices have now. */
  factor(): boolean {
    this.pair.work.slopes();
    return this.pair.factor();
  }

  #sum(): void {
    this.pair.work.linear();
    this.pair.work.load();
  }

  /**
   * F and q of the end alone, the middle being alike. With `tempered`, the devices shorten steps too
   * long for them (see `remember`); returns whether all took the last one whole.
   */
  evaluateEnd(tempered = false): boolean {
    const whole = this.#loads.look(END, tempered);
    this.#loads.alike();
    this.#sum();
    return whole;
  }

  /** Lets the devices take `state` as the point from which the next tempered steps are shortened. */
  remember(state: Float64Array): void {
    for (const placed of this.network.devices) {
      gather(placed, state);
      placed.device.remember(placed.x, placed.memory);
    }
  }

  /** Lets them take junctions without any voltage as that point: those far in forward bias come back from there. */
  forget(): void {
    for (const { memory } of this.network.devices) memory.fill(0);
  }
}
