import { gather } from "./devices.ts";
import { Jacobian } from "./jacobian.ts";
import { PatternBuilder } from "./kernel/pattern.ts";
import { HOLD, type Network } from "./network.ts";
import { columnScale } from "./unknowns.ts";

/** How far the continuation has come: everything at its full value is the circuit itself. */
export interface Continuation {
  /** Share of every supply's EMF, 0 … 1. */
  readonly supplies: number;
  /** Conductance from every node to chassis, S. */
  readonly shunt: number;
  /** Share of the self-heating, 0 … 1. */
  readonly heating: number;
}

export const WHOLE: Continuation = { supplies: 1, shunt: 0, heating: 1 };

/**
 * The equations at direct current, F(x) = 0, and their Jacobian. Built once a network; `evaluate` and
 * `step` do not allocate.
 */
export class DcSystem {
  readonly network: Network;
  readonly jacobian: Jacobian;
  /** F(x) at the state last evaluated, by row. */
  readonly residual: Float64Array;
  /** Whether every device took the last step whole. */
  whole = true;
  /** The meter put to the circuit (index into `Circuit.nets`), if its conductance is above 0. */
  meter = { net: 0, siemens: 0 };
  readonly #gSlot: Int32Array;
  /** By device and local square: place among the varying slots, −1 where there is none. */
  readonly #devicePlaces: readonly Int32Array[];
  /** Slot of each node's diagonal, −1 for branches and temperatures. */
  readonly #nodeSlot: Int32Array;
  /** Place among the varying slots of each heating junction's diagonal. */
  readonly #heatPlace: Int32Array;
  readonly #warmFrom: Float64Array;
  #inertia = 0;
  #shunt = 0;

  constructor(network: Network) {
    this.network = network;
    const { unknowns, stamps, devices } = network;
    const n = unknowns.size;
    const builder = new PatternBuilder(n);
    // what lies in the row or column of something known is not in the matrix
    const slotOf = (row: number, column: number) => (row < n && column < n ? builder.slot(row, column) : -1);
    this.#gSlot = Int32Array.from(stamps.g.row, (row, e) => slotOf(row, stamps.g.column[e]!));
    this.#nodeSlot = Int32Array.from(unknowns.list, ({ kind }, k) => (kind === "node" ? slotOf(k, k) : -1));
    const varying = new Map<number, number>();
    const placeOf = (slot: number) => {
      if (slot >= 0 && !varying.has(slot)) varying.set(slot, varying.size);
      return varying.get(slot) ?? -1;
    };
    this.#devicePlaces = devices.map(({ device, locals }) =>
      Int32Array.from(device.pattern, (present, k) =>
        present ? placeOf(slotOf(locals[Math.floor(k / device.size)]!, locals[k % device.size]!)) : -1,
      ),
    );
    const heated = unknowns.list.slice(unknowns.electrical);
    this.#heatPlace = Int32Array.from(heated, (_, k) =>
      placeOf(slotOf(unknowns.electrical + k, unknowns.electrical + k)),
    );
    this.jacobian = new Jacobian(
      builder.finish(),
      Int32Array.from(varying.keys()),
      columnScale(unknowns.list),
    );
    this.residual = new Float64Array(unknowns.stateSize);
    this.#warmFrom = new Float64Array(unknowns.stateSize);
    this.restamp();
  }

  /** Takes over the present values of the network's linear stamps. */
  restamp(): void {
    const { stamps, freeAtDc, unknowns } = this.network;
    const { constant } = this.jacobian;
    constant.fill(0);
    for (let e = 0; e < this.#gSlot.length; e++) {
      const slot = this.#gSlot[e]!;
      if (slot >= 0) constant[slot]! += stamps.g.value[e]!;
    }
    for (const node of freeAtDc.held) constant[this.#nodeSlot[node]!]! += HOLD;
    const { net, siemens } = this.meter;
    if (siemens > 0) constant[this.#nodeSlot[unknowns.net[net]!]!]! += siemens;
    if (this.#shunt > 0) {
      for (const slot of this.#nodeSlot) if (slot >= 0) constant[slot]! += this.#shunt;
    }
    this.jacobian.touch();
  }

  /** Puts a meter's conductance from a net to chassis, S; 0 takes it away. */
  connectMeter(net: number, siemens: number): void {
    this.meter = { net, siemens };
    this.restamp();
  }

  /**
   * Lets the junctions warm for `stride` thermal time constants from where they are in `state` instead of
   * to their balance (implicit Euler); an infinite stride is the balance.
   */
  warmFrom(state: Float64Array, stride: number): void {
    this.#inertia = 1 / stride;
    this.#warmFrom.set(state);
  }

  /** Lets the devices take `state` as the point from which the next steps are shortened. */
  remember(state: Float64Array): void {
    for (const placed of this.network.devices) {
      gather(placed, state);
      placed.device.remember(placed.x, placed.memory);
    }
  }

  /** F and its Jacobian at `state`. With `tempered`, devices shorten steps too long for them. */
  evaluate(state: Float64Array, continuation: Continuation, tempered: boolean): void {
    if (continuation.shunt !== this.#shunt) {
      this.#shunt = continuation.shunt;
      this.restamp();
    }
    this.residual.fill(0);
    this.jacobian.varying.fill(0);
    this.jacobian.addConstantTimes(state, this.residual);
    const { row, value } = this.network.stamps.supply;
    for (let e = 0; e < row.length; e++) this.residual[row[e]!]! -= continuation.supplies * value[e]!;
    this.#addDevices(state, continuation.heating, tempered);
    this.#addAmbient(state, continuation.heating);
  }

  #addDevices(state: Float64Array, heating: number, tempered: boolean): void {
    const { devices, unknowns } = this.network;
    const { varying } = this.jacobian;
    this.whole = true;
    for (let d = 0; d < devices.length; d++) {
      const placed = devices[d]!;
      const { device, locals, load } = placed;
      gather(placed, state);
      if (!device.evaluate(placed.x, load, tempered ? placed.memory : undefined)) this.whole = false;
      const places = this.#devicePlaces[d]!;
      for (let k = 0; k < locals.length; k++) {
        const row = locals[k]!;
        const share = row >= unknowns.electrical ? heating : 1;
        this.residual[row]! += share * load.current[k]!;
        for (let m = k * device.size; m < (k + 1) * device.size; m++) {
          const place = places[m]!;
          if (place >= 0) varying[place]! += share * load.slope[m]!;
        }
      }
    }
  }

  /** What of each temperature's equation holds it at ambient, or at where it was. */
  #addAmbient(state: Float64Array, heating: number): void {
    const { unknowns, ambientKelvin } = this.network;
    for (let k = unknowns.electrical; k < unknowns.size; k++) {
      this.residual[k]! +=
        (1 - heating) * (state[k]! - ambientKelvin) + this.#inertia * (state[k]! - this.#warmFrom[k]!);
      this.jacobian.varying[this.#heatPlace[k - unknowns.electrical]!]! += 1 - heating + this.#inertia;
    }
  }

  /**
   * Solves Jacobian·dx = F for the Newton step (to be subtracted). Returns the unknowns that nothing
   * determines, if there are any.
   */
  step(dx: Float64Array): readonly number[] | undefined {
    return this.jacobian.solve(this.residual, dx);
  }
}
