import { gather } from "./devices.ts";
import { type Elimination, record } from "./kernel/elimination.ts";
import { RealLu } from "./kernel/lu.ts";
import { order } from "./kernel/order.ts";
import { type Pattern, PatternBuilder } from "./kernel/pattern.ts";
import { HOLD, type Network } from "./network.ts";

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

/** Unit of a branch current when pivots are compared: a milliampere weighs as much as a volt. */
const CURRENT_UNIT = 1e-3;

/**
 * The equations at direct current, F(x) = 0, and their Jacobian, with the recorded elimination that
 * solves for a Newton step. Built once a network; `evaluate` and `step` do not allocate.
 */
export class DcSystem {
  readonly network: Network;
  /** F(x) at the state last evaluated, by row. */
  readonly residual: Float64Array;
  /** Whether every device took the last step whole. */
  whole = true;
  /** The meter put to the circuit, if its conductance is above 0. */
  loaded = { net: 0, siemens: 0 };
  /** Times the Jacobian was put in a new order. */
  orderings = 0;
  readonly #pattern: Pattern;
  readonly #values: Float64Array;
  readonly #constant: Float64Array;
  readonly #gSlot: Int32Array;
  readonly #deviceSlots: readonly Int32Array[];
  readonly #diagonalSlot: Int32Array;
  readonly #columnScale: Float64Array;
  readonly #warmFrom: Float64Array;
  #inertia = 0;
  #lu: RealLu | undefined;

  constructor(network: Network) {
    this.network = network;
    const { unknowns, stamps, devices } = network;
    const n = unknowns.size;
    const builder = new PatternBuilder(n);
    // what lies in the row or column of something known goes to a slot of its own behind the others
    const slotOf = (row: number, column: number) => (row < n && column < n ? builder.slot(row, column) : -1);
    this.#gSlot = Int32Array.from(stamps.g.row, (row, e) => slotOf(row, stamps.g.column[e]!));
    this.#deviceSlots = devices.map(({ device, locals }) =>
      Int32Array.from(device.pattern, (present, k) =>
        present ? slotOf(locals[Math.floor(k / device.size)]!, locals[k % device.size]!) : -1,
      ),
    );
    this.#diagonalSlot = Int32Array.from(unknowns.list, ({ kind }, k) =>
      kind === "branch" ? -1 : slotOf(k, k),
    );
    this.#pattern = builder.finish();
    this.#values = new Float64Array(this.#pattern.row.length);
    this.#constant = new Float64Array(this.#pattern.row.length);
    this.#columnScale = Float64Array.from(unknowns.list, ({ kind }) =>
      kind === "branch" ? CURRENT_UNIT : 1,
    );
    this.residual = new Float64Array(unknowns.stateSize);
    this.#warmFrom = new Float64Array(unknowns.stateSize);
    this.restamp();
  }

  /** Takes over the present values of the network's linear stamps. */
  restamp(): void {
    const { stamps, freeAtDc } = this.network;
    this.#constant.fill(0);
    for (let e = 0; e < this.#gSlot.length; e++) {
      const slot = this.#gSlot[e]!;
      if (slot >= 0) this.#constant[slot]! += stamps.g.value[e]!;
    }
    for (const node of freeAtDc.held) this.#constant[this.#diagonalSlot[node]!]! += HOLD;
  }

  /** Puts a conductance from a net (index into `Circuit.nets`) to chassis, S; 0 takes it away. */
  load(net: number, siemens: number): void {
    this.loaded = { net, siemens };
  }

  /**
   * Lets the junctions warm for `stride` thermal time constants from where they are in `state` instead of
   * to their balance (implicit Euler); an infinite stride is the balance.
   */
  warmFrom(state: Float64Array, stride: number): void {
    this.#inertia = 1 / stride;
    this.#warmFrom.set(state);
  }

  /** F and its Jacobian at `state`. With `tempered`, devices shorten steps too long for them. */
  evaluate(state: Float64Array, continuation: Continuation, tempered: boolean): void {
    this.residual.fill(0);
    this.#values.set(this.#constant);
    this.#addLinear(state, continuation);
    this.#addDevices(state, continuation, tempered);
  }

  #addLinear(state: Float64Array, { supplies, shunt }: Continuation): void {
    const { stamps, unknowns, freeAtDc } = this.network;
    const { residual } = this;
    const { row, column, value } = stamps.g;
    for (let e = 0; e < row.length; e++) residual[row[e]!]! += value[e]! * state[column[e]!]!;
    for (let e = 0; e < stamps.supply.row.length; e++) {
      residual[stamps.supply.row[e]!]! -= supplies * stamps.supply.value[e]!;
    }
    for (const node of freeAtDc.held) residual[node]! += HOLD * state[node]!;
    this.#addLoad(state);
    if (shunt === 0) return;
    for (let k = 0; k < unknowns.electrical; k++) {
      const slot = this.#diagonalSlot[k]!;
      if (slot < 0) continue;
      residual[k]! += shunt * state[k]!;
      this.#values[slot]! += shunt;
    }
  }

  #addLoad(state: Float64Array): void {
    const { net, siemens } = this.loaded;
    if (siemens === 0) return;
    const node = this.network.unknowns.net[net]!;
    this.residual[node]! += siemens * state[node]!;
    this.#values[this.#diagonalSlot[node]!]! += siemens;
  }

  #addDevices(state: Float64Array, { heating }: Continuation, tempered: boolean): void {
    const { devices, unknowns, ambientKelvin } = this.network;
    this.whole = true;
    for (let d = 0; d < devices.length; d++) {
      const placed = devices[d]!;
      const { device, locals, load } = placed;
      gather(placed, state);
      if (!device.evaluate(placed.x, load, tempered ? placed.memory : undefined)) this.whole = false;
      for (let k = 0; k < locals.length; k++) {
        const row = locals[k]!;
        this.residual[row]! += row >= unknowns.electrical ? heating * load.current[k]! : load.current[k]!;
      }
      this.#addSlopes(d, heating);
    }
    // the rest of each temperature's equation holds it at ambient
    for (let k = unknowns.electrical; k < unknowns.size; k++) {
      this.residual[k]! +=
        (1 - heating) * (state[k]! - ambientKelvin) + this.#inertia * (state[k]! - this.#warmFrom[k]!);
      this.#values[this.#diagonalSlot[k]!]! += 1 - heating + this.#inertia;
    }
  }

  /** Lets the devices take `state` as the point from which the next steps are shortened. */
  remember(state: Float64Array): void {
    for (const placed of this.network.devices) {
      gather(placed, state);
      placed.device.remember(placed.x, placed.memory);
    }
  }

  #addSlopes(d: number, heating: number): void {
    const { devices, unknowns } = this.network;
    const { device, locals, load } = devices[d]!;
    const slots = this.#deviceSlots[d]!;
    for (let k = 0; k < slots.length; k++) {
      const slot = slots[k]!;
      if (slot < 0) continue;
      const row = locals[Math.floor(k / device.size)]!;
      this.#values[slot]! += row >= unknowns.electrical ? heating * load.slope[k]! : load.slope[k]!;
    }
  }

  /** Solves Jacobian·dx = F for the Newton step (to be subtracted). Returns the unknowns that nothing determines, if any. */
  step(dx: Float64Array): readonly number[] | undefined {
    if (this.#lu === undefined || !this.#lu.factor(this.#values)) {
      const ordering = order(this.#pattern, { real: this.#values, columnScale: this.#columnScale });
      if ("singularColumns" in ordering) return ordering.singularColumns;
      this.orderings++;
      this.#lu = new RealLu(record(this.#pattern, ordering));
      this.#lu.factor(this.#values);
    }
    this.#lu.solve(this.residual, dx);
    return undefined;
  }

  /** The recorded elimination, once there is one. */
  get elimination(): Elimination | undefined {
    return this.#lu?.elimination;
  }

  /** Sign of the Jacobian's determinant as last factored, up to a sign that belongs to the order. */
  get determinantSign(): number {
    return this.#lu?.pivotSign() ?? 0;
  }
}
